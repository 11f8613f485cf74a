/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "input/ok_words.h"

#include "base/text.h"

#include <string.h>

static bool is_acceptable(enum hk_code code)
{
    return hk_code_severity(code) != HK_SEVERITY_ERROR && code != HK_CODE_OK_UNUSED;
}

/* For hk_text_nearest: the code's name, "" where it cannot be accepted. */
static const char *acceptable_name(const void *context, size_t code)
{
    (void)context;
    return is_acceptable((enum hk_code)code) ? hk_code_name((enum hk_code)code) : "";
}

static enum hk_code code_of(const char *word)
{
    int code = 0;
    while (code < HK_CODE_END && !hk_text_same(word, hk_code_name((enum hk_code)code)))
        code++;
    return (enum hk_code)code;
}

static void word_unknown(const char *word, struct hk_place at, struct hk_diags *diags)
{
    static const char where[] = "each warning ends with its code in brackets";
    hk_diags_add(diags, HK_CODE_CHOICE, at, "ok: \"%s\" is not the code of a warning", word);
    const size_t nearest =
        diags->count < HK_FINDINGS_MOST ? hk_text_nearest(word, HK_CODE_END, acceptable_name, NULL) : SIZE_MAX;
    if (nearest != SIZE_MAX)
        hk_diags_hint(diags, "did you mean \"%s\"? %s", hk_code_name((enum hk_code)nearest), where);
    else
        hk_diags_hint(diags, "%s", where);
}

static void word_take(const char *word, struct hk_place at, struct hk_ok_lines lines, struct hk_diags *diags)
{
    const enum hk_code code = code_of(word);
    if (code == HK_CODE_END || code == HK_CODE_OK_UNUSED) {
        word_unknown(word, at, diags);
    } else if (is_acceptable(code)) {
        hk_diags_accept(diags, code, lines);
    } else {
        hk_diags_add(diags, HK_CODE_CHOICE, at, "ok: \"%s\" is an error, and an error cannot be accepted", word);
        hk_diags_hint(diags, "correct the error, and take the code out");
    }
}

void hk_ok_words(const char *text, size_t from, struct hk_ok_lines lines,
                 struct hk_place (*place)(const void *host, size_t offset), const void *host, struct hk_diags *diags)
{
    static const char between[] = " ,;[]";
    struct hk_arena arena = {0};
    size_t *origin = NULL;
    const char *plain = hk_text_plain(&arena, text + from, &origin);
    for (size_t at = 0; plain && plain[at];) {
        const size_t length = strcspn(plain + at, between);
        const char *word = length > 0 ? hk_arena_text(&arena, plain + at, length) : NULL;
        if (word)
            word_take(word, place(host, from + origin[at]), lines, diags);
        at += length + strspn(plain + at + length, between);
    }
    diags->out_of_memory |= arena.out_of_memory;
    hk_arena_free(&arena);
}
