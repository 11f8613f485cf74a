/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "input/spreadsheet_damage.h"

#include "base/text.h"
#include "input/digits.h"
#include "input/error_value.h"

#include <string.h>

/* Months in English, German and French, in full and abbreviated. */
static const char *const months[] = {
    "jan",      "january",  "januar",   "jänner",   "janv",     "janvier",   "feb",       "february", "februar",
    "févr",     "fevr",     "février",  "fevrier",  "mar",      "mär",       "mrz",       "march",    "märz",
    "maerz",    "mars",     "apr",      "april",    "avr",      "avril",     "may",       "mai",      "jun",
    "june",     "juni",     "juin",     "jul",      "july",     "juli",      "juil",      "juillet",  "aug",
    "august",   "août",     "aout",     "sep",      "sept",     "september", "septembre", "oct",      "okt",
    "october",  "oktober",  "octobre",  "nov",      "november", "novembre",  "dec",       "dez",      "déc",
    "december", "dezember", "décembre", "decembre",
};

#define MONTH_LEAST 3 /* skips units of two letters quickly */

static bool is_month(const char *word, size_t length)
{
    char copy[16] = "";
    if (length < MONTH_LEAST || length >= sizeof copy)
        return false;
    memcpy(copy, word, length);
    for (size_t i = 0; i < sizeof months / sizeof months[0]; i++) {
        if (hk_text_same(copy, months[i]))
            return true;
    }
    return false;
}

/* Returns true for one month and one or two numbers: "1-Mar", "Mar-71", "05. Jun", "12 March 2024". */
static bool month_date(const char *text)
{
    size_t named = 0, numbers = 0;
    while (*text) {
        size_t digits = hk_digit_run(text), letters = 0;
        while (hk_is_letter(text[letters]))
            letters++;
        if (digits > 4 || (letters > 0 && !is_month(text, letters)))
            return false;
        if (digits == 0 && letters == 0 && !strchr("-/. ,", *text))
            return false;
        numbers += digits > 0;
        named += letters > 0;
        text += digits + letters > 0 ? digits + letters : 1;
    }
    return named == 1 && (numbers == 1 || numbers == 2);
}

/*
 * Returns the number of parts of a date such as "2024-03-01" or "5.6.", at most three, with their digits in `lengths`.
 * All marks must be equal.
 */
static size_t date_parts(const char **cursor, size_t lengths[3], char *mark)
{
    const char *text = *cursor;
    size_t count = 0;
    *mark = 0;
    while (count < 3 && hk_is_digit(*text)) {
        lengths[count] = hk_digit_run(text);
        text += lengths[count++];
        if (count == 3 || !*text || !strchr("-/.", *text) || (*mark && *text != *mark))
            break;
        *mark = *text++;
    }
    *cursor = text;
    return count;
}

static bool number_date(const char *text)
{
    const char *end = text;
    size_t n[3];
    char mark;
    size_t count = date_parts(&end, n, &mark);
    if (*end && !((*end == ' ' || *end == 'T') && hk_is_digit(end[1]) && strchr(end, ':')))
        return false;
    if (count == 3) {
        bool year_first = n[0] == 4 && n[1] <= 2 && n[2] <= 2;
        bool year_last = n[0] <= 2 && n[1] <= 2 && (n[2] == 2 || n[2] == 4);
        return year_first || year_last;
    }
    if (count != 2 || n[0] > 2 || n[1] > 2)
        return false;
    bool german = mark == '.' && end[-1] == '.';                            /* 05.06. */
    bool padded = mark == '/' && (text[0] == '0' || text[n[0] + 1] == '0'); /* 01/02: not a fraction */
    return german || padded;
}

/* Returns true for "1.2E+05": a number too long for its column. */
static bool power_number(const char *text)
{
    struct hk_digits digits;
    if (hk_digits_scan(&text, HK_DECIMAL_POINT, &digits) == HK_NUMBER_NONE || (*text != 'e' && *text != 'E'))
        return false;
    text++;
    if (*text == '+' || *text == '-')
        text++;
    return hk_is_digit(*text);
}

/* Returns true for a time such as "01:10:00". */
static bool clock_time(const char *text)
{
    size_t hours = hk_digit_run(text);
    return hours >= 1 && hours <= 2 && text[hours] == ':' && hk_digit_run(text + hours + 1) == 2;
}

enum spoiling { SOUND, DATE, POWER, CLOCK };

static enum spoiling spoiling_of(const char *text)
{
    if (!text[hk_digit_run(text)]) /* fast path: most cells are integers */
        return SOUND;
    if (month_date(text) || number_date(text))
        return DATE;
    if (power_number(text))
        return POWER;
    return clock_time(text) ? CLOCK : SOUND;
}

bool hk_spreadsheet_damage(const struct hk_span *span, struct hk_diags *diags)
{
    static const struct {
        const char *what, *hint;
    } findings[] = {
        [DATE] = {"is a date that a spreadsheet made of what was typed", "format the column as text and type it again"},
        [POWER] = {"is how a spreadsheet shortens a long number; digits may be lost",
                   "format the column as text and type the number with all its digits"},
        [CLOCK] = {"is a time of day that a spreadsheet made of what was typed",
                   "format the column as text and type it again; for a time write 25 min or 1 h 10 min"},
    };
    if (hk_error_value(span->text)) {
        hk_error_value_found(span->text, hk_span_place(span, span->text), diags);
        return true;
    }
    enum spoiling spoiling = spoiling_of(span->text);
    if (spoiling == SOUND)
        return false;
    hk_diags_add(diags, HK_CODE_SPREADSHEET_DAMAGE, hk_span_place(span, span->text), "%s %s", span->text,
                 findings[spoiling].what);
    hk_diags_hint(diags, "%s", findings[spoiling].hint);
    return true;
}
