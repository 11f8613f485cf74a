/* SPDX-License-Identifier: GPL-3.0-or-later */
/* CommonMark, with a backslash before every character that could be markup. */
#include "document.h"

#include <string.h>

static void markdown_words(struct document *document, const char *words)
{
    for (; *words; words++) {
        if (strchr("\\`*_[]<>|#&~", *words))
            fputc('\\', document->out);
        fputc(*words, document->out);
    }
}

static void markdown_title(struct document *document, const char *words)
{
    fputs("## ", document->out);
    markdown_words(document, words);
    fputc('\n', document->out);
}

static void markdown_heading(struct document *document, const char *words)
{
    fputs("\n### ", document->out);
    markdown_words(document, words);
    fputs("\n\n", document->out);
    document->open = LIST;
}

static void markdown_item(struct document *document, const char *words)
{
    if (document->open == NO_LIST)
        fputc('\n', document->out);
    document->open = LIST;
    fputs("- ", document->out);
    markdown_words(document, words);
    fputc('\n', document->out);
}

static void markdown_subitem(struct document *document, const char *words)
{
    fputs("  ", document->out);
    markdown_item(document, words);
}

struct document document_markdown(FILE *out)
{
    return (struct document){
        .out = out,
        .put_title = markdown_title,
        .put_heading = markdown_heading,
        .put_item = markdown_item,
        .put_subitem = markdown_subitem,
    };
}
