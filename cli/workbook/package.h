/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The zip archive of a workbook, and its XML files: unpacked and parsed piece by piece, within SHEETS_UNPACKED_BYTES.
 */
#ifndef PACKAGE_H
#define PACKAGE_H

#include "workbook/sheets.h"

#include <expat.h>
#include <zip.h>

struct package {
    struct sheets *sheets; /* of the failures */
    zip_t *zip;
    size_t unpacked;   /* bytes so far */
    XML_Parser parser; /* while a part is read */
};

/* Opens the file. Returns false, with the reason in `sheets`, on failure. */
bool package_open(struct package *package, struct sheets *sheets, const char *path);
void package_close(struct package *package);

bool package_has(const struct package *package, const char *part);

/* Callbacks of a part; names come without their namespace prefix. An attribute list is that of expat. */
struct part_reader {
    void *data;
    void (*start)(void *data, const char *name, const char **attributes);
    void (*end)(void *data, const char *name);
    void (*text)(void *data, const char *text, size_t length); /* NULL: text is passed over */
};

/* Parses a part. Returns false, with the reason in `sheets`, if it is missing, damaged, too large, or stopped. */
bool package_parse(struct package *package, const char *part, const struct part_reader *reader);

/* Ends the parsing of the current part: `sheets` has the reason. */
void package_stop(struct package *package);

/* Returns the value of an attribute, its namespace prefix aside; NULL if it is absent. */
const char *attribute(const char **attributes, const char *name);

/* A text that grows while a part is parsed. */
struct growing {
    char *bytes; /* zero-terminated; NULL: empty */
    size_t used, capacity;
};

/* Appends; on failure stops the part. */
void growing_add(struct growing *text, struct package *package, const char *bytes, size_t length);
void growing_clear(struct growing *text);
const char *growing_text(const struct growing *text);

#endif
