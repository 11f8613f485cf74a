/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "input/error_value.h"

#include "base/diags.h"
#include "base/text.h"

#include <string.h>

/*
 * Errors of spreadsheet programs in the languages of Europe, from memory: capitals followed by ! or ? ("#REF!",
 * "#WERT!", "#DIV/0!", "#NAME?", "#NOM?"), some without ("#N/A"), "#####" of a narrow column, and LibreOffice's
 * "Err:502".
 */
bool hk_error_value(const char *text)
{
    static const char *const unmarked[] = {"#N/A", "#NV", "#N/D", "#N/B", "#I/T", "#N/DISP", "#Н/Д", "#SAKNAS", "#MANGLER",
                                           "#PUUTTUU", "#HIÁNYZIK", "#YOK", "#GETTING_DATA"};
    if (*text != '#')
        return hk_text_starts(text, "Err:") && hk_is_digit(text[4]);
    size_t length = strlen(text);
    if (text[strspn(text, "#")] == '\0')
        return length > 1;
    for (size_t i = 0; i < sizeof unmarked / sizeof unmarked[0]; i++) {
        if (hk_text_same(text, unmarked[i]))
            return true;
    }
    for (const char *c = text + 1; *c && c < text + length - 1; c++) {
        if (!hk_is_letter(*c) && !hk_is_digit(*c) && *c != '/' && *c != '_')
            return false;
        if (*c >= 'a' && *c <= 'z')
            return false;
    }
    return length > 2 && (text[length - 1] == '!' || text[length - 1] == '?');
}

void hk_error_value_found(const char *text, struct hk_place at, struct hk_diags *diags)
{
    hk_diags_add(diags, HK_CODE_SPREADSHEET_DAMAGE, at, "%s is a spreadsheet's error, not a value", text);
    hk_diags_hint(diags, "type the value itself");
}
