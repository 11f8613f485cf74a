/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "model/odd.h"

#include "base/diags.h"
#include "model/outlier.h"

#include <gsl/gsl_machine.h>
#include <gsl/gsl_math.h>
#include <stdlib.h>
#include <string.h>

struct judging {
    const struct hk_fit *fit;
    struct hk_deviation *deviations; /* by reading */
    double *gradient, *along;
};

/* Sets the gradient of ln expectation over s. */
static void set_gradient(const struct judging *j, const struct hk_datum *datum)
{
    memset(j->gradient, 0, j->fit->count * sizeof *j->gradient);
    hk_fit_ln_off(j->fit, NULL, datum, 1 / datum->s, j->gradient);
}

/*
 * Returns the distance of a reading from the expectation by all others but `other`; `along` is C J^T of the reading.
 * With h_ik = J_i C J_k^T, leaving out k moves the residual r_i to r_i + h_ik r_k / (1 - h_kk), and the leverage h_ii
 * to h_ii + h_ik^2 / (1 - h_kk).
 */
static double deviations_without(const struct judging *j, size_t reading, size_t other)
{
    const struct hk_datum *data = j->fit->data;
    set_gradient(j, &data[other]);
    const double shared = hk_fit_dot(j->fit, j->along, j->gradient);
    const double rest = fmax(1 - j->deviations[other].leverage, GSL_DBL_EPSILON);
    const double left = 1 - j->deviations[reading].leverage - gsl_pow_2(shared) / rest;
    return fabs(data[reading].residual + shared * data[other].residual / rest) / sqrt(fmax(left, GSL_DBL_EPSILON));
}

/* Returns true when the reading is an outlier without any one of the others, too. */
static bool stays_odd(const struct judging *j, size_t reading)
{
    const struct hk_fit *fit = j->fit;
    set_gradient(j, &fit->data[reading]);
    hk_fit_along(fit, j->gradient, j->along);
    for (size_t i = 0; i < fit->evidence; i++)
        if (i != reading && !hk_datum_same_swatch(&fit->data[i], &fit->data[reading]) &&
            !(deviations_without(j, reading, i) > HK_OUTLIER_DEVIATIONS))
            return false;
    return true;
}

size_t hk_odd_find(const struct hk_fit *fit, const struct hk_diags *diags, struct hk_arena *scratch)
{
    const struct judging j = {fit, hk_arena_take(scratch, fit->evidence, sizeof *j.deviations),
                              hk_arena_take(scratch, fit->count, sizeof *j.gradient),
                              hk_arena_take(scratch, fit->count, sizeof *j.along)};
    double most = HK_ODD_DEVIATIONS;
    size_t found = SIZE_MAX;
    if (scratch->out_of_memory || fit->odd_count >= HK_ODD_MOST)
        return SIZE_MAX;
    for (size_t i = 0; i < fit->evidence; i++)
        j.deviations[i] = hk_outlier_deviation(fit, &fit->data[i], j.gradient);
    for (size_t i = 0; i < fit->evidence; i++) {
        if (!(j.deviations[i].deviations > most) || !(fabs(j.deviations[i].ln_ratio) > log(HK_ODD_RATIO)) ||
            hk_diags_accepts(diags, HK_CODE_OUTLIER, hk_outlier_place(&fit->data[i])) || !stays_odd(&j, i))
            continue;
        most = j.deviations[i].deviations;
        found = i;
    }
    return found;
}

static int by_number(const void *a, const void *b)
{
    const struct hk_datum *x = a, *y = b;
    return (x->number > y->number) - (x->number < y->number);
}

bool hk_odd_leave_out(struct hk_fit *fit, size_t reading, size_t testers)
{
    const struct hk_datum of = fit->data[reading];
    size_t kept = 0, left = 0;
    for (size_t i = 0; i < fit->evidence; i++)
        left += i == reading || hk_datum_same_swatch(&fit->data[i], &of);
    struct hk_datum *odd = hk_arena_take(&fit->arena, fit->odd_count + left, sizeof *odd);
    if (!odd)
        return false;
    for (size_t i = 0; i < fit->odd_count; i++)
        odd[i] = fit->odd[i];
    for (size_t i = 0; i < fit->evidence + testers; i++) {
        if (i < fit->evidence && (i == reading || hk_datum_same_swatch(&fit->data[i], &of)))
            odd[fit->odd_count++] = fit->data[i];
        else
            fit->data[kept++] = fit->data[i];
    }
    fit->odd = odd;
    fit->evidence -= left;
    qsort(fit->odd, fit->odd_count, sizeof *fit->odd, by_number);
    return true;
}

/* Returns true when a reading that is left out, or another of its swatch, is an outlier to the fit. */
static bool is_outlier(const struct hk_fit *fit, const struct hk_datum *datum, double *gradient)
{
    bool outlier = false;
    for (size_t i = 0; i < fit->odd_count; i++)
        outlier |= (&fit->odd[i] == datum || hk_datum_same_swatch(&fit->odd[i], datum)) &&
                   hk_outlier_left_out(fit, &fit->odd[i], gradient).deviations > HK_OUTLIER_DEVIATIONS;
    return outlier;
}

/* What was left out leaves room for it in the data. */
bool hk_odd_take_back(struct hk_fit *fit, size_t testers, struct hk_arena *scratch)
{
    double *gradient = hk_arena_take(scratch, fit->count, sizeof *gradient);
    bool *stays = hk_arena_take(scratch, fit->odd_count + 1, sizeof *stays);
    size_t kept = 0, back = 0;
    if (scratch->out_of_memory)
        return true;
    for (size_t i = 0; i < fit->odd_count; i++) {
        stays[i] = is_outlier(fit, &fit->odd[i], gradient);
        back += !stays[i];
    }
    for (size_t i = fit->evidence + testers; back > 0 && i-- > fit->evidence;)
        fit->data[i + back] = fit->data[i];
    for (size_t i = 0; i < fit->odd_count; i++) {
        if (stays[i])
            fit->odd[kept++] = fit->odd[i];
        else
            fit->data[fit->evidence++] = fit->odd[i];
    }
    fit->odd_count = kept;
    if (fit->evidence > 0)
        qsort(fit->data, fit->evidence, sizeof *fit->data, by_number);
    return back > 0;
}
