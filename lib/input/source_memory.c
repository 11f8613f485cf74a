/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Texts in memory as a source. */
#include "hankful.h"

#include <stdlib.h>
#include <string.h>

struct open_text {
    const char *at;
    size_t left;
};

static ptrdiff_t read_some(void *handle, void *bytes, size_t count, const char **why)
{
    (void)why;
    struct open_text *text = handle;
    const size_t taken = count < text->left ? count : text->left;
    memcpy(bytes, text->at, taken);
    text->at += taken;
    text->left -= taken;
    return (ptrdiff_t)taken;
}

static enum hk_open open_text(void *host, const char *name, struct hk_file *file, const char **why)
{
    (void)why;
    const struct hk_memory_file *known = host;
    while (known->name && strcmp(known->name, name) != 0)
        known++;
    if (!known->name)
        return HK_OPEN_ABSENT;
    struct open_text *text = malloc(sizeof *text);
    if (!text)
        return HK_OPEN_NO_MEMORY;
    *text = (struct open_text){known->text, strlen(known->text)};
    *file = (struct hk_file){.handle = text, .read = read_some, .close = free, .identity = {0, (uintptr_t)known}};
    return HK_OPEN_DONE;
}

struct hk_source hk_source_memory(const struct hk_memory_file *files)
{
    return (struct hk_source){(void *)(uintptr_t)files, open_text};
}
