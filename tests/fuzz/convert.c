/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Any words for `convert`, one a line: figures, or what would do. */
#include "fuzz.h"

#include <stdlib.h>
#include <string.h>

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size)
{
    const char *words[8];
    size_t count = 0;
    char *text = malloc(size + 1), *rest = text;
    fuzz_hold(text);
    memcpy(text, bytes, size);
    text[size] = '\0';
    for (char *word; count < 8 && (word = strtok_r(NULL, "\n", &rest));)
        words[count++] = word;
    struct hk_convert result = {0};
    struct hk_diags diags = {0};
    bool read = count > 0 && hk_convert_words(words, count, fuzz_catalogue(), NULL, &result, &diags);
    fuzz_hold(read || count == 0 || diags.errors > 0);
    if (read)
        hk_convert_free(&result);
    hk_diags_free(&diags);
    free(text);
    return 0;
}
