/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Answers for other programs, on jansson: keys in a fixed order, 15 significant digits, every failure noticed. */
#ifndef JSON_H
#define JSON_H

#include "commands.h"
#include "hankful.h"

#include <jansson.h>

/* A failed step (no memory, a number that is none) is kept in `failed` and asked for once, by json_write. */
struct json {
    bool failed;
    size_t rows; /* written by json_write_row so far */
};

/* {"hankful":"1"}: how every answer starts. */
json_t *json_make_answer(struct json *json);
json_t *json_make_object(struct json *json);
json_t *json_make_array(struct json *json);

/* Each takes over `value`; NULL, or an object or array that is NULL, is a failure. */
void json_put(struct json *json, json_t *object, const char *key, json_t *value);
void json_add(struct json *json, json_t *array, json_t *value);

/* Text; bytes that are no UTF-8 (a folder's name may hold them) become "?". NULL becomes "". */
void json_put_text(struct json *json, json_t *object, const char *key, const char *text);
void json_put_real(struct json *json, json_t *object, const char *key, double value);
void json_put_whole(struct json *json, json_t *object, const char *key, int64_t value);
void json_put_bool(struct json *json, json_t *object, const char *key, bool value);
/* Money as "38.40"; an amount below 0 is not known: null. */
void json_put_money(struct json *json, json_t *object, const char *key, int64_t minor, int minor_digits);
/* Likely, low and high as an object; `put_amount` with what is enough too. */
void json_put_range(struct json *json, json_t *object, const char *key, const struct hk_range *range);
void json_put_amount(struct json *json, json_t *object, const char *key, const struct hk_range *range);
json_t *json_text(const char *text);

/* A finding as an object: file, line, column, code, message, hint. */
void json_add_finding(struct json *json, json_t *array, const struct hk_finding *finding, const char *folder);
/* The findings of one severity as an array of these. */
void json_put_findings(struct json *json, json_t *object, const char *key, const struct hk_diags *diags,
                       enum hk_severity severity, const char *folder);
/* What stands beside an answer: `warnings`, and as `assumed` the notes. */
void json_put_remarks(struct json *json, json_t *object, const struct hk_diags *diags, const char *folder);

/*
 * An answer of many rows, none of which is kept: the object with all that comes first, the array of rows, each a line, and
 * what comes last. Each call writes and frees what it is given; only the last one tells whether all went well.
 */
void json_write_first(struct json *json, json_t *first, const char *key, FILE *out);
void json_write_row(struct json *json, json_t *row, FILE *out);
enum outcome json_write_last(struct json *json, json_t *last, FILE *out);

/* Writes and frees it. FAILED, with a message, where anything failed. */
enum outcome json_write(struct json *json, json_t *object, FILE *out);
/* The same on a single line, which is flushed: a reader gets it at once, and whole. */
enum outcome json_write_line(struct json *json, json_t *object, FILE *out);

#endif
