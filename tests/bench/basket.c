/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * How long the cheapest basket takes as shops, colours and put-ups grow: ours against `glpsol`, GLPK's own command, on the very
 * programme, written by glp_write_lp. Prints a line for each size; asserts nothing but equal optima.
 *
 *     ninja -C BUILD tests/bench_basket && BUILD/tests/bench_basket [SECONDS]
 *
 * SECONDS (default 10): time limit of one search on either side. glpsol (package glpk-utils) runs with the cuts and the presolve
 * that ours uses; its time includes its start and its reading of the file, some milliseconds.
 */
#include "shop/basket.h"
#include "random_basket.h"

#include <glpk.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/resource.h>
#include <unistd.h>

#define TEXT_MOST 512

/* Processor time so far, user and system together: of this process, or of the children that it waited for. */
static double used_s(int who)
{
    struct rusage used;
    getrusage(who, &used);
    return (double)(used.ru_utime.tv_sec + used.ru_stime.tv_sec) + (double)(used.ru_utime.tv_usec + used.ru_stime.tv_usec) / 1e6;
}

static int by_value(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

static double median(double *values, int count)
{
    qsort(values, (size_t)count, sizeof *values, by_value);
    return values[count / 2];
}

struct measured {
    double ours_s, glpsol_s;
    int64_t total_minor;
    double glpsol_total; /* -1: none, or not proven */
    bool proven;
};

static double read_objective(const char *path)
{
    double value = -1;
    char line[TEXT_MOST];
    bool optimal = false;
    FILE *file = fopen(path, "r");
    while (file && fgets(line, sizeof line, file)) {
        optimal |= sscanf(line, "Status: INTEGER OPTIMA%c", &(char){0}) == 1;
        sscanf(line, "Objective: obj = %lf", &value);
    }
    if (file)
        fclose(file);
    return optimal ? value : -1;
}

/* In place of GLPK's own (the linker's --wrap): writes the programme that would be solved, where that is asked for. */
static const char *write_to;
int __real_glp_intopt(glp_prob *lp, const glp_iocp *options);
int __wrap_glp_intopt(glp_prob *lp, const glp_iocp *options);
int __wrap_glp_intopt(glp_prob *lp, const glp_iocp *options)
{
    return write_to ? glp_write_lp(lp, NULL, write_to) : __real_glp_intopt(lp, options);
}

static bool write_programme(const struct hk_basket_problem *problem, const char *path)
{
    struct hk_arena arena = {0};
    struct hk_basket basket = {0};
    write_to = path;
    bool done = hk_basket_solve(problem, &basket, &arena) == HK_BASKET_FOUND;
    write_to = NULL;
    hk_arena_free(&arena);
    return done;
}

static bool run_glpsol(const struct hk_basket_problem *problem, const char *folder, struct measured *m)
{
    char model[TEXT_MOST], answer[TEXT_MOST], command[4 * TEXT_MOST];
    snprintf(model, sizeof model, "%s/basket.lp", folder);
    snprintf(answer, sizeof answer, "%s/basket.txt", folder);
    snprintf(command, sizeof command, "glpsol --lp %s --intopt --mir --tmlim %.0f -o %s >/dev/null 2>&1", model, problem->seconds,
             answer);
    if (!write_programme(problem, model))
        return false;
    double start = used_s(RUSAGE_CHILDREN);
    bool ran = system(command) == 0;
    m->glpsol_s = used_s(RUSAGE_CHILDREN) - start;
    m->glpsol_total = ran ? read_objective(answer) : -1;
    remove(model);
    remove(answer);
    return ran;
}

static bool measure(const struct hk_basket_problem *problem, const char *folder, struct measured *m)
{
    struct hk_arena arena = {0};
    struct hk_basket basket = {0};
    double start = used_s(RUSAGE_SELF);
    bool found = hk_basket_solve(problem, &basket, &arena) == HK_BASKET_FOUND;
    m->ours_s = used_s(RUSAGE_SELF) - start;
    m->proven = basket.proven;
    m->total_minor = basket.total_minor;
    hk_arena_free(&arena);
    if (!found || !run_glpsol(problem, folder, m))
        return false;
    if (m->proven && m->glpsol_total >= 0 && (double)m->total_minor != m->glpsol_total) {
        printf("ours %lld, glpsol %.17g: the optima differ\n", (long long)m->total_minor, m->glpsol_total);
        return false;
    }
    return true;
}

static bool measure_size(struct random_basket_size size, int count, double seconds, const char *folder)
{
    double ours[64] = {0}, theirs[64] = {0};
    int proven = 0, theirs_proven = 0;
    for (int i = 0; i < count; i++) {
        struct hk_basket_problem problem;
        struct measured m = {0};
        if (!random_basket(size, (uint64_t)i, seconds, &problem))
            return false;
        bool done = measure(&problem, folder, &m);
        random_basket_free(&problem);
        if (!done)
            return false;
        ours[i] = m.ours_s;
        theirs[i] = m.glpsol_s;
        proven += m.proven;
        theirs_proven += m.glpsol_total >= 0;
    }
    double a = median(ours, count), b = median(theirs, count);
    printf("%2zu x %2zu x %zu %9d %10.1f %10.1f %7d/%d %10.1f %10.1f %7d/%d %8.2f\n", size.shops,
           size.colours, size.put_ups, count, a * 1e3, ours[count - 1] * 1e3, proven, count, b * 1e3, theirs[count - 1] * 1e3, theirs_proven, count, b / a);
    return true;
}

int main(int argc, char **argv)
{
    static const struct {
        struct random_basket_size size;
        int count;
    } rungs[] = {{{2, 3, 2}, 40}, {{3, 4, 3}, 40}, {{6, 5, 3}, 40}, {{6, 10, 3}, 20},
                 {{10, 8, 3}, 20}, {{10, 12, 3}, 10}, {{12, 20, 3}, 6}};
    double seconds = argc > 1 ? atof(argv[1]) : 10;
    char folder[] = "/tmp/hankful-bench-XXXXXX";
    if (!mkdtemp(folder))
        return 3;
    printf("%-11s %9s %10s %10s %9s %10s %10s %9s %8s\n", "shops", "problems", "ours ms", "longest", "proven",
           "glpsol ms", "longest", "proven", "ratio");
    bool done = true;
    for (size_t i = 0; i < sizeof rungs / sizeof *rungs && done; i++)
        done = measure_size(rungs[i].size, rungs[i].count, seconds, folder);
    rmdir(folder);
    return done ? 0 : 1;
}
