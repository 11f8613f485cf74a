/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "workbook/shown.h"

#include "workbook/decimal.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

#define MOST_DECIMALS 15

/* ---- Numbers ---- */

/* Writes a value without power of ten; decimals are those of 15 significant digits, at least `least`. */
static void write_plain(double value, int least, char *text, size_t size)
{
    char rounded[40];
    const int power = decimal_scientific(value, rounded, sizeof rounded);
    if (!isfinite(value) || power > 15 || power < -15) {
        decimal_short(value, text, size); /* the reader refuses a power of ten */
        return;
    }
    double kept;
    decimal_read(rounded, &kept);
    decimal_fixed(kept, 14 - power, text, size);
    char *point = strchr(text, '.');
    char *end = text + strlen(text);
    while (point && end[-1] == '0')
        *--end = '\0';
    if (point && end[-1] == '.')
        *--end = '\0';
    const int have = point && end > point ? (int)(end - point - 1) : 0;
    if (least > have)
        decimal_fixed(kept, least < MOST_DECIMALS ? least : MOST_DECIMALS, text, size);
    if (strcmp(text, "-0") == 0)
        snprintf(text, size, "0");
}

void shown_number(double value, const struct shown_format *format, char text[SHOWN_TEXT])
{
    char number[60];
    write_plain(format->percent ? value * 100 : value, format->decimals, number, sizeof number);
    snprintf(text, SHOWN_TEXT, "%s%s%s%s", format->before, number, format->percent ? "%" : "", format->after);
}

/* ---- Format codes ---- */

/* Appends bytes to an affix; what does not fit is left out. */
static void append(char affix[SHOWN_AFFIX], const char *bytes, size_t length)
{
    const size_t used = strlen(affix);
    if (used + length < SHOWN_AFFIX) {
        memcpy(affix + used, bytes, length);
        affix[used + length] = '\0';
    }
}

/* A step of a format code: a literal, a currency or a mark, and the code behind it. */
struct step {
    enum { LITERAL, PLACE, POINT, PERCENT, DAY, NOTHING, SECTION } kind;
    const char *text;     /* of a literal */
    size_t length, whole; /* bytes of the text, and of the step */
};

static struct step bracket_step(const char *code)
{
    const size_t length = strcspn(code, "]");
    const size_t whole = length + (code[length] == ']');
    if (code[1] == '$') /* [$€-407] */
        return (struct step){LITERAL, code + 2, strcspn(code + 2, "-]"), whole};
    const bool elapsed = length >= 2 && strspn(code + 1, "hHmMsS") == length - 1; /* [h]:mm */
    return (struct step){elapsed ? DAY : NOTHING, code, 0, whole};
}

static size_t bytes_of_character(const char *text)
{
    size_t length = 1;
    while (((unsigned char)text[length] & 0xC0) == 0x80)
        length++;
    return length;
}

static struct step step_at(const char *code)
{
    if (*code == '"') {
        const size_t length = strcspn(code + 1, "\"");
        return (struct step){LITERAL, code + 1, length, length + 1 + (code[length + 1] == '"')};
    }
    if ((*code == '\\' || *code == '_' || *code == '*') && code[1]) {
        const size_t length = bytes_of_character(code + 1);
        return (struct step){*code == '\\' ? LITERAL : NOTHING, code + 1, length, length + 1};
    }
    if (*code == '[')
        return bracket_step(code);
    if (strncasecmp(code, "General", 7) == 0)
        return (struct step){PLACE, code, 0, 7};
    if ((*code == 'E' || *code == 'e') && (code[1] == '+' || code[1] == '-'))
        return (struct step){NOTHING, code, 0, 2};
    if (strncasecmp(code, "AM/PM", 5) == 0)
        return (struct step){DAY, code, 0, 5};
    if (strchr("0#?@", *code))
        return (struct step){PLACE, code, 0, 1};
    if (strchr(".%;", *code))
        return (struct step){*code == '.' ? POINT : *code == '%' ? PERCENT : SECTION, code, 0, 1};
    if (strchr("yYmMdDhHsS", *code))
        return (struct step){DAY, code, 0, strspn(code, (char[]){*code, '\0'})};
    if (strchr(",-+/()", *code))
        return (struct step){NOTHING, code, 0, 1};
    return (struct step){LITERAL, code, bytes_of_character(code), bytes_of_character(code)};
}

/* Removes blanks at the outer end of an affix, and the affix if nothing else is left. */
static void trim_affixes(struct shown_format *format)
{
    size_t skipped = strspn(format->before, " "), length = strlen(format->after);
    memmove(format->before, format->before + skipped, strlen(format->before + skipped) + 1);
    while (length > 0 && format->after[length - 1] == ' ')
        format->after[--length] = '\0';
}

struct shown_format shown_format_of(const char *code)
{
    struct shown_format format = {0};
    bool placed = false, pointed = false;
    for (struct step step; *code; code += step.whole) {
        step = step_at(code);
        if (step.kind == SECTION)
            break;
        format.date = format.date || step.kind == DAY;
        format.percent = format.percent || step.kind == PERCENT;
        pointed = pointed || step.kind == POINT;
        format.decimals += step.kind == PLACE && pointed && *code == '0';
        placed = placed || step.kind == PLACE;
        if (step.kind == LITERAL)
            append(placed ? format.after : format.before, step.text, step.length);
    }
    trim_affixes(&format);
    return format;
}

const char *shown_builtin(unsigned long id)
{
    static const struct {
        unsigned long id;
        const char *code;
    } codes[] = {
        {2, "0.00"},        {4, "#,##0.00"},       {7, "0.00"},      {8, "0.00"},     {9, "0%"},
        {10, "0.00%"},      {14, "yyyy-mm-dd"},    {15, "d-mmm-yy"}, {16, "d-mmm"},   {17, "mmm-yy"},
        {18, "h:mm AM/PM"}, {19, "h:mm:ss AM/PM"}, {20, "h:mm"},     {21, "h:mm:ss"}, {22, "yyyy-mm-dd h:mm"},
        {39, "0.00"},       {40, "0.00"},          {43, "0.00"},     {44, "0.00"},    {45, "mm:ss"},
        {46, "[h]:mm:ss"},  {47, "mm:ss"},
    };
    for (size_t i = 0; i < sizeof codes / sizeof codes[0]; i++)
        if (codes[i].id == id)
            return codes[i].code;
    return (id >= 27 && id <= 36) || (id >= 50 && id <= 58) ? "yyyy-mm-dd" : NULL; /* dates of East Asia */
}

/* ---- Dates ---- */

struct moment {
    int year, month, day, hour, minute, second;
    int64_t hours; /* in all, for [h] */
};

/* The civil date of a number of days since 1970-01-01 (proleptic Gregorian calendar), by years of 400, 100, 4 and 1. */
static void civil(int64_t days, struct moment *moment)
{
    static const int before[] = {0, 31, 61, 92, 122, 153, 184, 214, 245, 275, 306, 337, 366};
    int64_t day = days + 719468; /* since 0000-03-01 */
    const int64_t era = day / 146097;
    day -= era * 146097;
    const int64_t century = day / 36524 < 3 ? day / 36524 : 3;
    day -= century * 36524;
    const int64_t leap = day / 1461;
    day -= leap * 1461;
    const int64_t single = day / 365 < 3 ? day / 365 : 3;
    day -= single * 365;
    int month = 0;
    while (day >= before[month + 1])
        month++;
    moment->day = (int)day - before[month] + 1;
    moment->month = month < 10 ? month + 3 : month - 9;
    moment->year = (int)(era * 400 + century * 100 + leap * 4 + single) + (month >= 10);
}

static bool moment_of(double days, bool from_1904, struct moment *moment)
{
    if (!(days >= 0 && days < 2958466)) /* up to 9999-12-31 */
        return false;
    const int64_t seconds = llround(days * 86400), day = seconds / 86400, rest = seconds % 86400;
    civil(day - (from_1904 ? 24107 : 25569), moment);
    moment->hours = seconds / 3600;
    moment->hour = (int)(rest / 3600);
    moment->minute = (int)(rest / 60 % 60);
    moment->second = (int)(rest % 60);
    return true;
}

static void write_month(char *text, size_t size, int month, size_t letters)
{
    static const char *const names[] = {"January", "February", "March",     "April",   "May",      "June",
                                        "July",    "August",   "September", "October", "November", "December"};
    if (letters >= 3)
        snprintf(text, size, "%.*s", letters == 3 ? 3 : 20, names[month - 1]);
    else
        snprintf(text, size, letters == 2 ? "%02d" : "%d", month);
}

/* Writes one field of a date; *minutes: an m stands for minutes, since hours stand before it. */
static void write_field(char *text, size_t size, const char *code, size_t letters, const struct moment *moment,
                        bool minutes)
{
    const char *two = letters >= 2 ? "%02d" : "%d";
    switch (*code) {
    case 'y':
    case 'Y':
        snprintf(text, size, letters > 2 ? "%04d" : "%02d", letters > 2 ? moment->year : moment->year % 100);
        break;
    case 'm':
    case 'M':
        if (minutes)
            snprintf(text, size, two, moment->minute);
        else
            write_month(text, size, moment->month, letters);
        break;
    case 'd':
    case 'D':
        if (letters <= 2)
            snprintf(text, size, two, moment->day);
        break;
    case 'h':
    case 'H':
        snprintf(text, size, two, moment->hour);
        break;
    case 's':
    case 'S':
        snprintf(text, size, two, moment->second);
        break;
    case '[':
        snprintf(text, size, "%lld", (long long)moment->hours);
        break;
    default: /* AM/PM */
        snprintf(text, size, "%s", moment->hour < 12 ? "AM" : "PM");
        break;
    }
}

/* Returns whether an m stands for minutes: hours stand before it, or seconds behind it. */
static bool is_minutes(const char *code, bool after_hours)
{
    const char *behind = code + strspn(code, "mM");
    return after_hours || (*behind == ':' && (behind[1] == 's' || behind[1] == 'S'));
}

static void write_code(const struct moment *moment, const char *code, char text[SHOWN_TEXT])
{
    size_t used = 0;
    bool after_hours = false;
    for (struct step step; *code && used < SHOWN_TEXT - SHOWN_AFFIX; code += step.whole) {
        char field[SHOWN_AFFIX] = "";
        step = step_at(code);
        if (step.kind == SECTION)
            break;
        if (step.kind == DAY) {
            write_field(field, sizeof field, code, step.whole, moment, is_minutes(code, after_hours));
            after_hours = strchr("hH[", *code) || (after_hours && !strchr("mM", *code));
        } else if (step.kind == LITERAL && step.length < sizeof field) {
            snprintf(field, sizeof field, "%.*s", (int)step.length, step.text);
        } else if (step.kind == NOTHING && strchr(",-/", *code)) {
            snprintf(field, sizeof field, "%c", *code);
        } else if (step.kind == POINT) {
            snprintf(field, sizeof field, ".");
        }
        used += (size_t)snprintf(text + used, SHOWN_TEXT - used, "%s", field);
    }
    text[used] = '\0';
}

void shown_date(double days, bool from_1904, const char *code, char text[SHOWN_TEXT])
{
    struct moment moment = {0};
    if (!moment_of(days, from_1904, &moment)) {
        snprintf(text, SHOWN_TEXT, "#####"); /* as spreadsheets show a date before the first */
        return;
    }
    write_code(&moment, code, text);
    if (strspn(text, "0123456789., ") == strlen(text))
        snprintf(text, SHOWN_TEXT, "%04d-%02d-%02d", moment.year, moment.month, moment.day);
}

/* ---- OpenDocument ---- */

/* Returns the digits of a text, without other characters. */
static void digits_of(const char *text, size_t length, char *digits, size_t size)
{
    size_t used = 0;
    for (size_t i = 0; i < length && used + 1 < size; i++)
        if (text[i] >= '0' && text[i] <= '9')
            digits[used++] = text[i];
    digits[used] = '\0';
}

/* Returns the decimals of the number shown, if its digits are those of the value; else 0. */
static int decimals_shown(double value, const char *shown, size_t length)
{
    char digits[60], wanted[80], number[60];
    size_t behind = 0;
    while (behind < length && shown[length - 1 - behind] >= '0' && shown[length - 1 - behind] <= '9')
        behind++;
    if (behind == length || behind > MOST_DECIMALS || !strchr(".,", shown[length - 1 - behind]) ||
        !(fabs(value) < 1e15))
        return 0;
    digits_of(shown, length, digits, sizeof digits);
    decimal_fixed(fabs(value), (int)behind, number, sizeof number);
    digits_of(number, strlen(number), wanted, sizeof wanted);
    return strcmp(digits, wanted) == 0 ? (int)behind : 0;
}

void shown_as(double value, bool percent, const char *shown, char text[SHOWN_TEXT])
{
    static const char ten[] = "0123456789";
    struct shown_format format = {.percent = percent};
    const size_t first = strcspn(shown, ten);
    size_t end = strlen(shown);
    while (end > first && !strchr(ten, shown[end - 1]))
        end--;
    if (end > first) {
        format.decimals = decimals_shown(percent ? value * 100 : value, shown + first, end - first);
        append(format.before, shown, first);
        append(format.after, shown + end, strlen(shown + end));
    }
    size_t before = strlen(format.before); /* a sign is part of the number */
    while (before > 0 && strchr("-+(.,", format.before[before - 1]))
        format.before[--before] = '\0';
    if (strcmp(format.before, "\xE2\x88\x92") == 0)
        format.before[0] = '\0';
    if (*format.before == '-' || *format.before == '(')
        memmove(format.before, format.before + 1, before);
    char *sign = strchr(format.after, percent ? '%' : ')');
    if (sign)
        memmove(sign, sign + 1, strlen(sign));
    if (percent && strspn(format.after, " \xC2\xA0\xE2\x80\xAF") == strlen(format.after))
        format.after[0] = '\0';
    trim_affixes(&format);
    shown_number(value, &format, text);
}
