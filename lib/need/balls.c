/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "need/balls.h"

#include "input/quantity.h"

#include <math.h>

double hk_balls_usable_g(int64_t balls, double put_up_g, double join_g)
{
    return (double)balls * put_up_g - (double)(balls - 1) * join_g;
}

/*
 * Solves n p - (n - 1) j >= enough for n. Rounding may change the quotient when n balls are exactly enough, so the
 * result is corrected to the least number by hk_balls_usable_g.
 */
bool hk_balls_needed(double enough_g, double put_up_g, double join_g, int64_t *balls)
{
    if (!(put_up_g > join_g))
        return false;
    double n = ceil((enough_g - join_g) / (put_up_g - join_g));
    if (!(n <= (double)HK_COUNT_MOST))
        return false;
    int64_t least = n > 1 ? (int64_t)n : 1;
    if (least > 1 && hk_balls_usable_g(least - 1, put_up_g, join_g) >= enough_g)
        least--;
    else if (hk_balls_usable_g(least, put_up_g, join_g) < enough_g)
        least++;
    *balls = least;
    return true;
}
