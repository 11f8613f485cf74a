/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support.h"

#include <gsl/gsl_errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct memory_reader {
    const char *bytes;
    size_t left;
};

static ptrdiff_t memory_read(void *handle, void *bytes, size_t count, const char **why)
{
    struct memory_reader *reader = handle;
    (void)why;
    if (count > reader->left)
        count = reader->left;
    memcpy(bytes, reader->bytes, count);
    reader->bytes += count;
    reader->left -= count;
    return (ptrdiff_t)count;
}

static enum hk_open memory_open(void *host, const char *name, struct hk_file *file, const char **why)
{
    for (const struct memory_file *f = host; f->name; f++) {
        if (strcmp(f->name, name) != 0)
            continue;
        struct memory_reader *reader = malloc(sizeof *reader);
        if (!reader) {
            *why = "out of memory";
            return HK_OPEN_REFUSED;
        }
        *reader = (struct memory_reader){f->text, f->size ? f->size : strlen(f->text)};
        *file = (struct hk_file){.handle = reader, .read = memory_read, .close = free};
        return HK_OPEN_DONE;
    }
    return HK_OPEN_ABSENT;
}

struct hk_source memory_source(const struct memory_file *files)
{
    return (struct hk_source){(void *)(uintptr_t)files, memory_open};
}

struct hk_catalogue *shipped_catalogue(void)
{
    struct hk_source source = hk_source_folder(TABLES_DIR);
    struct hk_diags diags = {0};
    struct hk_catalogue *catalogue = hk_catalogue_read(&source, &diags);
    assert_findings(&diags, "");
    assert_non_null(catalogue);
    return catalogue;
}

int handler_off(void **state)
{
    (void)state;
    gsl_set_error_handler_off();
    return 0;
}

int catalogue_set_up(void **state)
{
    handler_off(state);
    *state = shipped_catalogue();
    return *state ? 0 : -1;
}

int catalogue_tear_down(void **state)
{
    hk_catalogue_free(*state);
    return 0;
}

struct hk_cell cell_make(char separator, const char *text, struct hk_diags *diags)
{
    size_t size = 2 * strlen(text) + 32;
    char *csv = malloc(size);
    assert_non_null(csv);
    size_t at = (size_t)snprintf(csv, size, "name%cvalue\nx%c\"", separator, separator);
    for (; *text; text++) {
        if (*text == '"')
            csv[at++] = '"';
        csv[at++] = *text;
    }
    snprintf(csv + at, size - at, "\"\n");
    const struct memory_file files[] = {{"cells.csv", csv, 0}, {NULL, NULL, 0}};
    struct hk_source source = memory_source(files);
    struct hk_table *table = hk_table_read(&source, "cells.csv", (struct hk_table_options){0}, diags);
    free(csv);
    return table ? hk_table_at(table, 0, 1) : (struct hk_cell){.text = ""};
}

void cell_free(struct hk_cell cell)
{
    hk_table_free((struct hk_table *)(uintptr_t)cell.table);
}

void amounts_text(const struct hk_amount *by_size, size_t count, char *text, size_t size)
{
    size_t at = 0;
    for (size_t i = 0; i < count; i++) {
        const char *blank = i ? " " : "";
        if (by_size[i].kind == HK_AMOUNT_NONE)
            at += (size_t)snprintf(text + at, size - at, "%s-", blank);
        else if (by_size[i].kind == HK_AMOUNT_COUNT)
            at += (size_t)snprintf(text + at, size - at, "%s%lld", blank, (long long)by_size[i].count);
        else
            at += (size_t)snprintf(text + at, size - at, "%s%gmm", blank, by_size[i].length_m * 1000);
    }
}

/* SplitMix64 (Steele, Lea, Flood 2014). */
uint64_t random_next(uint64_t *seed)
{
    uint64_t z = (*seed += 0x9E3779B97F4A7C15);
    z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9;
    z = (z ^ (z >> 27)) * 0x94D049BB133111EB;
    return z ^ (z >> 31);
}

int64_t random_in(uint64_t *seed, int64_t least, int64_t most)
{
    return least + (int64_t)(random_next(seed) % (uint64_t)(most - least + 1));
}

void assert_close_at(double a, double b, double relative, double absolute, const char *what, const char *file, int line)
{
    double most = relative * fmax(fabs(a), fabs(b)) + absolute;
    if (fabs(a - b) <= most)
        return;
    print_error("%s is %.17g, not %.17g (off by %.3g, at most %.3g)\n", what, a, b, fabs(a - b), most);
    _fail(file, line);
}

char *findings_text(struct hk_diags *diags)
{
    static const char *const severities[] = {"note", "warning", "error"};
    char *text = NULL;
    size_t size = 0;
    FILE *out = open_memstream(&text, &size);
    if (!out)
        return NULL;
    hk_diags_sort(diags);
    for (size_t i = 0; i < diags->count; i++) {
        const struct hk_finding *f = &diags->findings[i];
        fprintf(out, "%s:%zu:%zu: %s: %s%s%s\n", f->at.file ? f->at.file : "-", f->at.line, f->at.column,
                severities[hk_code_severity(f->code)], f->message, f->hint ? "; " : "", f->hint ? f->hint : "");
    }
    if (diags->out_of_memory)
        fputs("lost\n", out);
    fclose(out);
    return text;
}

void assert_findings_at(struct hk_diags *diags, const char *expected, const char *file, int line)
{
    char *text = findings_text(diags);
    hk_diags_free(diags);
    if (text && strcmp(text, expected) == 0) {
        free(text);
        return;
    }
    print_error("found:\n%s\nexpected:\n%s\n", text ? text : "(no memory)", expected);
    free(text);
    _fail(file, line);
}
