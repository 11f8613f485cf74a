/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "markup.h"

#include "safe.h"

#include <stdlib.h>
#include <string.h>

static bool among(const char *tag, const char *const *tags)
{
    while (*tags && strcmp(*tags, tag) != 0)
        tags++;
    return *tags;
}

/* Elements that hold only elements: their start ends a line. */
static bool holder(const char *tag)
{
    static const char *const tags[] = {"html",    "head",    "body",   "header", "nav",   "main",  "footer",
                                       "section", "div",     "figure", "ul",     "table", "thead", "tbody",
                                       "tr",      "details", "svg",    "defs",   "g",     NULL};
    return among(tag, tags);
}

/* Elements whose end ends a line: a page is read as text too. */
static bool block(const char *tag)
{
    static const char *const tags[] = {"h1",   "h2",      "h3",      "h4",     "p",     "li",    "td",
                                       "th",   "caption", "summary", "meta",   "title", "style", "desc",
                                       "rect", "line",    "polygon", "circle", "path",  "text",  NULL};
    return holder(tag) || among(tag, tags);
}

static const char *entity_of(char character)
{
    switch (character) {
    case '&':
        return "&amp;";
    case '<':
        return "&lt;";
    case '>':
        return "&gt;";
    case '"':
        return "&quot;";
    default:
        return "&#39;";
    }
}

/* A stream in memory that cannot grow loses bytes without setting its error flag: each write is checked. */
static void put(struct markup *markup, const char *bytes, size_t length)
{
    markup->failed |= fwrite(bytes, 1, length, markup->out) != length;
}

static void put_words(struct markup *markup, const char *words)
{
    put(markup, words, strlen(words));
}

static void escape(struct markup *markup, const char *words)
{
    while (*words) {
        const size_t plain = strcspn(words, "&<>\"'");
        put(markup, words, plain);
        words += plain;
        if (*words)
            put_words(markup, entity_of(*words++));
    }
}

/* Escapes a copy of the words without what must not be shown. */
static void escape_safe(struct markup *markup, const char *words)
{
    char *copy = strdup(words);
    markup->failed |= !copy;
    if (copy) {
        safe_words(copy);
        escape(markup, copy);
    }
    free(copy);
}

static void begin(struct markup *markup, const char *tag, va_list attributes)
{
    put_words(markup, "<");
    put_words(markup, tag);
    for (const char *name; (name = va_arg(attributes, const char *));) {
        const char *value = va_arg(attributes, const char *);
        if (!value)
            continue;
        put_words(markup, " ");
        put_words(markup, name);
        put_words(markup, "=\"");
        escape_safe(markup, value);
        put_words(markup, "\"");
    }
}

static void end(struct markup *markup, const char *tag)
{
    put_words(markup, "</");
    put_words(markup, tag);
    put_words(markup, block(tag) ? ">\n" : ">");
}

void markup_open(struct markup *markup, const char *tag, ...)
{
    va_list attributes;
    va_start(attributes, tag);
    begin(markup, tag, attributes);
    va_end(attributes);
    put_words(markup, holder(tag) ? ">\n" : ">");
}

void markup_close(struct markup *markup, const char *tag)
{
    end(markup, tag);
}

void markup_leaf(struct markup *markup, const char *tag, ...)
{
    va_list attributes;
    va_start(attributes, tag);
    begin(markup, tag, attributes);
    va_end(attributes);
    put_words(markup, block(tag) ? "/>\n" : "/>");
}

void markup_element(struct markup *markup, const char *tag, const char *words, ...)
{
    va_list attributes;
    va_start(attributes, words);
    begin(markup, tag, attributes);
    va_end(attributes);
    put_words(markup, ">");
    escape_safe(markup, words);
    end(markup, tag);
}

void markup_text(struct markup *markup, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    char *words = text_format_list(format, arguments);
    va_end(arguments);
    markup->failed |= !words;
    if (words) {
        safe_words(words);
        escape(markup, words);
    }
    free(words);
}

void markup_figure(struct markup *markup, const char *tag, const char *words, const char *from, ...)
{
    va_list attributes;
    va_start(attributes, from);
    begin(markup, tag, attributes);
    va_end(attributes);
    put_words(markup, " data-from=\"");
    escape_safe(markup, from);
    put_words(markup, "\">");
    escape_safe(markup, words);
    end(markup, tag);
}

void markup_plain(struct markup *markup, const char *trusted)
{
    put_words(markup, trusted);
}
