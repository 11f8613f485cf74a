/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "added.h"

#include "complain.h"
#include "layout.h"
#include "piece.h"

#include <stdlib.h>
#include <string.h>

static const struct added_file files[] = {
    {"costs.csv", "hours, fees and other costs, for quote"},
    {"offers.csv", "offers of shops, and balls at home, for shop"},
    {"shops.csv", "postage and discounts of the shops"},
    {"progress.csv", "weights of the work in hand"},
    {"grade.csv", "measurements of every size, one a row"},
    {"swatches.csv", "swatches that you have worked and weighed"},
    {"testers.csv", "what testers of the pattern used"},
};
enum { file_count = sizeof files / sizeof files[0] };

const struct added_file *added_file(size_t i)
{
    return i < file_count ? &files[i] : NULL;
}

/* ---- --add ---- */

/* Returns the index of the file named "costs" or "costs.csv"; file_count if there is none. */
static size_t find_file(const char *name, size_t length)
{
    for (size_t i = 0; i < file_count; i++) {
        const size_t whole = strlen(files[i].name), stem = whole - strlen(".csv");
        if ((length == whole || length == stem) && strncmp(name, files[i].name, length) == 0)
            return i;
    }
    return file_count;
}

bool added_parse(const char *words, uint64_t *bits)
{
    bool known = true;
    for (const char *name = words;; name++) {
        const size_t length = strcspn(name, ","), file = find_file(name, length);
        if (file < file_count)
            *bits |= UINT64_C(1) << file;
        else
            complain(
                "--add: there is no file \"%.*s\" to add; write costs, offers, shops, progress, grade, swatches or "
                "testers, or several with commas between them",
                (int)length, name);
        known = known && file < file_count;
        name += length;
        if (!*name)
            return known;
    }
}

/* ---- The texts ---- */

bool append_cell(char **words, const char *cell, const char *behind)
{
    if (!strpbrk(cell, ",;\"\n#"))
        return text_append(words, "%s%s", cell, behind);
    bool good = text_append(words, "\"");
    for (const char *c = cell; good && *c; c++)
        good = text_append(words, *c == '"' ? "\"\"" : "%c", *c);
    return good && text_append(words, "\"%s", behind);
}

/* The subject of a line of text. */
struct subject {
    const struct hk_project *names;
    const struct hk_tally *tally;
    size_t role, line, kind; /* the line of the tally that has the piece */
};

/* Returns a size that has the line of the tally, preferably the middle one. */
static size_t size_with(const struct subject *subject)
{
    const size_t sizes = hk_project_sizes(subject->names), middle = (sizes - 1) / 2;
    if (!subject->tally || hk_tally_line(subject->tally, subject->line, middle).times > 0)
        return middle;
    for (size_t size = 0; size < sizes; size++)
        if (hk_tally_line(subject->tally, subject->line, size).times > 0)
            return size;
    return middle;
}

/* Formats "sleeves 1" for a piece that is made more than once. */
static bool append_piece(char **text, const struct subject *subject)
{
    const struct hk_line_count count = hk_tally_line(subject->tally, subject->line, size_with(subject));
    char *piece = text_format("%s%s", count.piece, count.times > 1 ? " 1" : "");
    const bool good = piece && append_cell(text, piece, "");
    free(piece);
    return good;
}

/* Formats a made-up value for each size: 80, 88, 96. */
static bool append_values(char **text, const struct subject *subject)
{
    bool good = true;
    for (size_t i = 0; good && i < hk_project_sizes(subject->names); i++)
        good = text_append(text, "%s%zu", i ? ", " : "", 80 + 8 * i);
    return good;
}

static bool append_sizes(char **text, const struct subject *subject)
{
    bool good = true;
    const size_t sizes = hk_project_sizes(subject->names);
    for (size_t i = 0; good && i < sizes; i++)
        good = append_cell(text, hk_project_size(subject->names, i), i + 1 < sizes ? "," : "");
    return good;
}

static bool append_put_up(char **text, const struct subject *subject)
{
    const struct hk_project_role role = hk_project_role(subject->names, subject->role);
    for (size_t i = 0; i < hk_project_yarns(subject->names); i++) {
        const struct hk_project_yarn yarn = hk_project_yarn(subject->names, i);
        if (strcmp(yarn.name, role.yarn) == 0)
            return text_append(text, "%s g", hk_number_text(yarn.put_up_g, 6).text);
    }
    return true;
}

static bool append_role(char **text, const struct subject *subject)
{
    return append_cell(text, hk_project_role(subject->names, subject->role).name, "");
}

static bool append_colour(char **text, const struct subject *subject)
{
    return append_cell(text, hk_project_role(subject->names, subject->role).colour, "");
}

static bool append_size(char **text, const struct subject *subject)
{
    return append_cell(text, hk_project_size(subject->names, size_with(subject)), "");
}

static bool append_kind(char **text, const struct subject *subject)
{
    const char *meaning, *kind = hk_cost_kind(subject->kind, &meaning);
    return text_append(text, "%s", kind);
}

static bool append_meaning(char **text, const struct subject *subject)
{
    const char *meaning = NULL;
    (void)hk_cost_kind(subject->kind, &meaning);
    return text_append(text, "%s", meaning);
}

static const struct {
    const char *word;
    bool (*append)(char **text, const struct subject *subject);
} words[] = {
    {"{role}", append_role},   {"{put_up}", append_put_up}, {"{colour}", append_colour},
    {"{size}", append_size},   {"{sizes}", append_sizes},   {"{values}", append_values},
    {"{piece}", append_piece}, {"{kind}", append_kind},     {"{meaning}", append_meaning},
};

/* Leaves out empty cells at the end. */
static void cut_end(char *text, size_t from)
{
    size_t length = strlen(text);
    while (length > from && (text[length - 1] == ' ' || text[length - 1] == ','))
        text[--length] = '\0';
}

/* Writes one line of the shipped text, up to `end`, about one subject. */
static bool append_line(char **text, const char *line, const char *end, const struct subject *subject)
{
    bool good = true;
    const size_t from = *text ? strlen(*text) : 0;
    while (good && line < end) {
        size_t i = 0;
        while (i < sizeof words / sizeof words[0] && strncmp(line, words[i].word, strlen(words[i].word)) != 0)
            i++;
        const bool known = i < sizeof words / sizeof words[0];
        const size_t left = (size_t)(end - line), plain = 1 + strcspn(line + 1, "{\n");
        const size_t length = known ? strlen(words[i].word) : plain < left ? plain : left;
        good = known ? words[i].append(text, subject) : text_append(text, "%.*s", (int)length, line);
        line += length;
    }
    if (good && *text)
        cut_end(*text, from);
    return good && text_append(text, "\n");
}

static bool has_word(const char *line, const char *end, const char *word)
{
    const char *found = strstr(line, word);
    return found && found < end;
}

static bool append_lines(char **text, const char *line, const char *end, struct subject subject)
{
    const char *meaning;
    bool good = true;
    if (has_word(line, end, "{role}")) {
        for (; good && subject.role < hk_project_roles(subject.names); subject.role++)
            good = append_line(text, line, end, &subject);
    } else if (has_word(line, end, "{piece}")) {
        for (; good && subject.tally && subject.line < hk_tally_lines(subject.tally); subject.line++)
            good = !piece_begins(subject.tally, subject.line) || append_line(text, line, end, &subject);
    } else if (has_word(line, end, "{kind}")) {
        for (; good && hk_cost_kind(subject.kind, &meaning); subject.kind++)
            good = append_line(text, line, end, &subject);
    } else {
        good = append_line(text, line, end, &subject);
    }
    return good;
}

char *added_text(const char *shipped, const struct hk_project *names, const struct hk_tally *tally)
{
    char *text = NULL;
    bool good = true;
    while (good && *shipped) {
        const char *end = shipped + strcspn(shipped, "\n");
        good = append_lines(&text, shipped, end, (struct subject){.names = names, .tally = tally});
        shipped = end + (*end == '\n');
    }
    if (good)
        return text;
    free(text);
    return NULL;
}
