/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "workbook/package.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#define SAVE_AGAIN "open it in a spreadsheet and save it again"

/* ---- Zip ---- */

/* A password turns an .xlsx into a compound file (MS-CFB, its signature), as an .xls always is. */
static const unsigned char compound[8] = {0xD0, 0xCF, 0x11, 0xE0, 0xA1, 0xB1, 0x1A, 0xE1};

static bool refuse_contents(struct sheets *sheets, const unsigned char *first, size_t got)
{
    if (got == sizeof compound && memcmp(first, compound, sizeof compound) == 0)
        return sheets_refuse(sheets, "it has a password, or is a file of the old format .xls",
                             "save it without a password, as .xlsx or .ods");
    if (got == 0)
        return sheets_refuse(sheets, "the file is empty", SAVE_AGAIN);
    return sheets_refuse(sheets, "it is not a workbook", "save it as .xlsx or .ods; a text file belongs into a folder");
}

static bool refuse_system(struct sheets *sheets, int error)
{
    sheets->absent = error == ENOENT || error == ENOTDIR;
    sheets->machine = !sheets->absent;
    return sheets_refuse(sheets, strerror(error), NULL);
}

/* Returns a descriptor of a regular file with the contents of a zip archive; -1 with the reason. */
static int open_archive(struct sheets *sheets, const char *path)
{
    unsigned char first[sizeof compound];
    struct stat status;
    const int descriptor = open(path, O_RDONLY | O_NONBLOCK | O_CLOEXEC);
    if (descriptor < 0) {
        refuse_system(sheets, errno);
        return -1;
    }
    const ssize_t got =
        fstat(descriptor, &status) == 0 && S_ISREG(status.st_mode) ? pread(descriptor, first, sizeof first, 0) : -1;
    if (got < 0)
        sheets_refuse(sheets, "it is not a file", NULL);
    else if ((size_t)status.st_size > SHEETS_FILE_BYTES)
        sheets_refuse(sheets, "it is larger than 64 MB", "remove pictures, and sheets that are not the project's");
    else if (got < 4 || memcmp(first, "PK", 2) != 0)
        refuse_contents(sheets, first, (size_t)got);
    if (!sheets->why)
        return descriptor;
    close(descriptor);
    return -1;
}

bool package_open(struct package *package, struct sheets *sheets, const char *path)
{
    *package = (struct package){.sheets = sheets};
    zip_error_t error;
    const int descriptor = open_archive(sheets, path);
    FILE *file = descriptor < 0 ? NULL : fdopen(descriptor, "rb");
    if (!file) {
        if (descriptor >= 0)
            close(descriptor);
        return sheets->why ? false : sheets_no_memory(sheets);
    }
    zip_error_init(&error);
    errno = 0;
    zip_source_t *source = zip_source_filep_create(file, 0, -1, &error);
    package->zip = source ? zip_open_from_source(source, ZIP_RDONLY, &error) : NULL;
    if (package->zip) {
        zip_error_fini(&error);
        return true;
    }
    if (errno == ENOMEM)
        sheets_no_memory(sheets);
    else
        sheets_refuse(sheets, "it is damaged: its end is missing, or its list of parts is wrong",
                      "copy it again, or " SAVE_AGAIN);
    zip_error_fini(&error);
    if (source)
        zip_source_free(source);
    else
        fclose(file);
    return false;
}

void package_close(struct package *package)
{
    if (package->zip)
        zip_discard(package->zip);
    package->zip = NULL;
}

bool package_has(const struct package *package, const char *part)
{
    return zip_name_locate(package->zip, part, 0) >= 0;
}

/* ---- XML ---- */

struct parsing {
    struct package *package;
    const struct part_reader *reader;
};

static const char *local_name(const char *name)
{
    const char *colon = strrchr(name, ':');
    return colon ? colon + 1 : name;
}

static void start_element(void *data, const char *name, const char **attributes)
{
    const struct parsing *parsing = data;
    if (!parsing->package->sheets->why)
        parsing->reader->start(parsing->reader->data, local_name(name), attributes);
}

static void end_element(void *data, const char *name)
{
    const struct parsing *parsing = data;
    if (!parsing->package->sheets->why)
        parsing->reader->end(parsing->reader->data, local_name(name));
}

static void take_text(void *data, const char *text, int length)
{
    const struct parsing *parsing = data;
    if (parsing->reader->text && !parsing->package->sheets->why)
        parsing->reader->text(parsing->reader->data, text, (size_t)length);
}

/* Workbooks declare no document type; without one there are no entities to expand. */
static void refuse_doctype(void *data, const char *name, const char *system, const char *public, int internal)
{
    (void)name, (void)system, (void)public, (void)internal;
    const struct parsing *parsing = data;
    sheets_refuse(parsing->package->sheets, "its XML has a document type, which no spreadsheet writes", SAVE_AGAIN);
    package_stop(parsing->package);
}

void package_stop(struct package *package)
{
    if (package->parser)
        XML_StopParser(package->parser, XML_FALSE);
}

/*
 * Refuses a part that libzip or expat failed with. Where memory ran out, both may call the part damaged; malloc then
 * has set errno, which is 0 before each call of theirs.
 */
static bool refuse_part(struct package *package)
{
    if (errno == ENOMEM)
        return sheets_no_memory(package->sheets);
    return sheets_refuse(package->sheets, "it is damaged: a part cannot be unpacked or is no XML", SAVE_AGAIN);
}

/* Feeds the part to the parser. Returns false with the reason. */
static bool feed(struct package *package, zip_file_t *file)
{
    char bytes[1 << 15];
    zip_int64_t got;
    do {
        errno = 0;
        got = zip_fread(file, bytes, sizeof bytes);
        if (got < 0)
            return refuse_part(package);
        package->unpacked += (size_t)got;
        if (package->unpacked > SHEETS_UNPACKED_BYTES)
            return sheets_refuse(package->sheets, "it unpacks to more than 128 MB",
                                 "remove sheets, rows and formats that are not the project's");
        errno = 0;
        if (XML_Parse(package->parser, bytes, (int)got, got == 0) != XML_STATUS_OK)
            return refuse_part(package);
    } while (got > 0);
    return !package->sheets->why;
}

/* Returns false, with the reason, for a part that is absent, has a password, or cannot be opened. */
static zip_file_t *open_part(struct package *package, const char *part)
{
    zip_stat_t status;
    errno = 0;
    if (zip_stat(package->zip, part, 0, &status) != 0) {
        if (errno == ENOMEM)
            sheets_no_memory(package->sheets);
        else
            sheets_refuse(package->sheets, "it is damaged: a part that it names is missing", SAVE_AGAIN);
        return NULL;
    }
    if (status.valid & ZIP_STAT_ENCRYPTION_METHOD && status.encryption_method != ZIP_EM_NONE) {
        sheets_refuse(package->sheets, "it has a password", "save it without a password");
        return NULL;
    }
    zip_file_t *file = zip_fopen(package->zip, part, 0);
    if (!file)
        refuse_part(package);
    return file;
}

bool package_parse(struct package *package, const char *part, const struct part_reader *reader)
{
    struct parsing parsing = {package, reader};
    if (package->sheets->why)
        return false;
    zip_file_t *file = open_part(package, part);
    package->parser = file ? XML_ParserCreate(NULL) : NULL;
    bool good = package->parser != NULL;
    if (file && !good)
        sheets_no_memory(package->sheets);
    if (good) {
        XML_SetUserData(package->parser, &parsing);
        XML_SetElementHandler(package->parser, start_element, end_element);
        XML_SetCharacterDataHandler(package->parser, take_text);
        XML_SetStartDoctypeDeclHandler(package->parser, refuse_doctype);
        good = feed(package, file);
        XML_ParserFree(package->parser);
    }
    package->parser = NULL;
    if (file)
        zip_fclose(file);
    return good;
}

const char *attribute(const char **attributes, const char *name)
{
    for (size_t i = 0; attributes[i]; i += 2)
        if (strcmp(local_name(attributes[i]), name) == 0)
            return attributes[i + 1];
    return NULL;
}

/* ---- Texts ---- */

void growing_add(struct growing *text, struct package *package, const char *bytes, size_t length)
{
    if (length > SHEETS_TEXT_BYTES - text->used) {
        sheets_refuse(package->sheets, "a cell has more text than any project", SAVE_AGAIN);
        package_stop(package);
        return;
    }
    if (text->used + length + 1 > text->capacity) {
        const size_t capacity = 2 * (text->used + length + 1);
        char *grown = realloc(text->bytes, capacity);
        if (!grown) {
            sheets_no_memory(package->sheets);
            package_stop(package);
            return;
        }
        text->bytes = grown;
        text->capacity = capacity;
    }
    memcpy(text->bytes + text->used, bytes, length);
    text->used += length;
    text->bytes[text->used] = '\0';
}

void growing_clear(struct growing *text)
{
    text->used = 0;
    if (text->bytes)
        text->bytes[0] = '\0';
}

const char *growing_text(const struct growing *text)
{
    return text->bytes ? text->bytes : "";
}
