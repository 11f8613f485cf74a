/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "number.h"

#include "hankful.h"

#include <inttypes.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

/* Doubles carry 15 decimal digits: a value closer to a tie than this, relatively, is treated as a tie. */
static const double decimal_noise = 5e-15;
static const double most_whole = 9e15; /* above this, a double does not represent every whole number */

static double power_of_ten(int place)
{
    double power = 1;
    for (int i = 0; i < place; i++)
        power *= 10;
    return power;
}

/* Returns value / 10^place, exact where the power of ten is exact. */
static double scaled(double value, int place)
{
    return place >= 0 ? value / power_of_ten(place) : value * power_of_ten(-place);
}

static double round_whole(double value, enum number_way way)
{
    const double below = floor(value), over = value - below;
    const double noise = decimal_noise * fmax(1, fabs(value));
    if (over <= noise)
        return below;
    if (over >= 1 - noise)
        return below + 1;
    switch (way) {
    case NUMBER_DOWN:
        return below;
    case NUMBER_UP:
        return below + 1;
    case NUMBER_NEAREST:
        break;
    }
    if (fabs(over - 0.5) <= noise)
        return fmod(below, 2) == 0 ? below : below + 1;
    return over < 0.5 ? below : below + 1;
}

/* Formats digits with a decimal point before the last `decimals` of them. */
static struct number with_point(bool negative, int64_t units, int decimals)
{
    struct number number;
    char falling[sizeof number.text];
    size_t length = 0;
    for (int i = 0; (units || i <= decimals) && length + 3 < sizeof falling; i++) {
        if (i == decimals)
            falling[length++] = '.';
        falling[length++] = (char)('0' + units % 10);
        units /= 10;
    }
    if (negative)
        falling[length++] = '-';
    for (size_t i = 0; i < length; i++)
        number.text[i] = falling[length - 1 - i];
    number.text[length] = '\0';
    return number;
}

/* Formats whole * 10^place. */
static struct number placed(double whole, int place)
{
    if (place >= 0)
        return number_whole((int64_t)(whole * power_of_ten(place)));
    return with_point(whole < 0, (int64_t)fabs(whole), -place);
}

static bool showable(double value, int place)
{
    return isfinite(value) && fabs(value) < most_whole && place > -16 && fabs(scaled(value, place)) < most_whole;
}

static struct number plain(double value, int digits)
{
    struct number number;
    snprintf(number.text, sizeof number.text, "%s", hk_number_text(value, digits).text);
    return number;
}

struct number number_unit(double value)
{
    return number_stepped(value, (struct number_step){1, value < 10 ? -1 : 0}, NUMBER_NEAREST);
}

struct number number_stated(double value)
{
    return plain(value, 6);
}

struct number number_label(double value)
{
    const struct number_step tenth = {1, -1}, one = {1, 0};
    const double tenths = value < 1 ? value : number_rounded(value, tenth, NUMBER_NEAREST);
    if (value < 100 || fabs(value - tenths) <= value * decimal_noise)
        return number_stated(tenths);
    return number_stepped(value, one, NUMBER_NEAREST);
}

struct number number_digits(double value, int digits)
{
    if (value == 0)
        return placed(0, 0);
    int place = (int)floor(log10(fabs(value))) - digits + 1;
    if (!showable(value, place))
        return plain(value, 6);
    double whole = round_whole(scaled(value, place), NUMBER_NEAREST);
    if (fabs(whole) >= power_of_ten(digits)) { /* 9.99 to two digits is 10 */
        place++;
        whole = round_whole(scaled(value, place), NUMBER_NEAREST);
    }
    return placed(whole, place);
}

struct number number_whole(int64_t value)
{
    static const char blank[] = "\xc2\xa0";
    char digits[24];
    struct number number = {0};
    const int length = snprintf(digits, sizeof digits, "%" PRId64, value);
    const int start = digits[0] == '-';
    char *end = number.text;
    for (int i = 0; i < length; i++) {
        if (i > start && (length - i) % 3 == 0 && length - start > 4) {
            memcpy(end, blank, sizeof blank - 1);
            end += sizeof blank - 1;
        }
        *end++ = digits[i];
    }
    *end = '\0';
    return number;
}

struct number_step number_step(double deviation, int least)
{
    struct number_step step = {1, least};
    if (!(deviation > 0) || !isfinite(deviation))
        return step;
    const double most = deviation / 2;
    const int place = (int)floor(log10(most));
    if (place < least)
        return step;
    step.place = place;
    step.digit = scaled(most, place) >= 5 ? 5 : 1;
    return step;
}

struct number number_stepped(double value, struct number_step step, enum number_way way)
{
    if (!showable(value, step.place))
        return plain(value, 6);
    return placed(step.digit * round_whole(scaled(value, step.place) / step.digit, way), step.place);
}

double number_rounded(double value, struct number_step step, enum number_way way)
{
    if (!showable(value, step.place))
        return value;
    const double whole = step.digit * round_whole(scaled(value, step.place) / step.digit, way);
    return step.place < 0 ? whole / power_of_ten(-step.place) : whole * power_of_ten(step.place);
}

static struct number with_percent(struct number number)
{
    const size_t length = strlen(number.text);
    snprintf(number.text + length, sizeof number.text - length, "%%");
    return number;
}

struct number number_percent(double ratio)
{
    const struct number_step step = {1, fabs(ratio) < 0.0995 ? -1 : 0};
    return with_percent(number_stepped(100 * ratio, step, NUMBER_NEAREST));
}

struct number number_share(double ratio)
{
    const struct number_step step = {1, ratio > 0 && ratio < 0.00995 ? -1 : 0};
    return with_percent(number_stepped(100 * ratio, step, NUMBER_NEAREST));
}

struct number number_asked(double ratio)
{
    /* a value below 100% is not shown as 100% */
    return with_percent(plain(ratio < 1 ? fmin(100 * ratio, 99.99999999999) : 100 * ratio, 13));
}

struct number number_chance(double chance)
{
    struct number over = {">99.9%"}, under = {"<0.1%"};
    if (chance > 0.999)
        return over;
    if (chance < 0.001)
        return under;
    const struct number_step step = {1, chance > 0.99 || chance < 0.01 ? -1 : 0};
    return with_percent(number_stepped(100 * chance, step, chance > 0.5 ? NUMBER_DOWN : NUMBER_NEAREST));
}
