/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * How long the fit takes as a designer's history of weighed swatches grows: each in one of a dozen yarns, on one of eight tools,
 * in one of four fabrics (invented). Asserts nothing but that the fit succeeds.
 *
 *     ninja -C BUILD tests/bench_fit && BUILD/tests/bench_fit
 */
#include "../folder.h"
#include "model/fit.h"
#include "stopwatch.h"

#include <stdio.h>
#include <string.h>

#define RUNS 9
#define YARNS 12
#define ROW_MOST 200

static char *yarns(void)
{
    char *text = malloc((YARNS + 1) * ROW_MOST);
    size_t used = 0;
    if (!text)
        exit(3);
    used += (size_t)sprintf(text, "role,yarn,put_up,length\n");
    for (unsigned i = 0; i < YARNS; i++)
        used += (size_t)sprintf(text + used, "%s,Quay %u,50 g,%u m\n", i ? "lace" : "main", i, 100 + 10 * i);
    return text;
}

static char *swatches(unsigned count)
{
    static const char *const fabrics[] = {"single crochet", "half double crochet", "double crochet", "stockinette"};
    char *text = malloc((count + 1) * ROW_MOST);
    size_t used = 0;
    if (!text)
        exit(3);
    used += (size_t)sprintf(text, "swatch,yarn,tool,fabric,stitches,rows,gauge,weight\n");
    for (unsigned i = 0; i < count; i++)
        used += (size_t)sprintf(text + used, "s%u,Quay %u,%u mm,%s,30,%u,18 x 20,%u g\n", i, i % YARNS, 3 + i % 8 / 2,
                                fabrics[i % 4], 30 + i % 5, 12 + i % 7);
    return text;
}

static double fit_s(const struct hk_tally *tally, size_t *parameters)
{
    struct hk_diags diags = {0};
    const double start = cpu_s();
    struct hk_fit *fit = hk_fit_make(tally, &diags);
    const double taken = cpu_s() - start;
    if (!fit)
        exit(3);
    *parameters = fit->count;
    hk_fit_free(fit);
    hk_diags_free(&diags);
    return taken;
}

static void bench(const struct hk_catalogue *catalogue, unsigned count)
{
    char *swatches_text = swatches(count), *yarns_text = yarns();
    double seconds[RUNS];
    size_t parameters = 0;
    struct hk_diags diags = {0};
    struct hk_project *project = folder_read(
        catalogue, (struct folder){.yarns = yarns_text, .swatches = swatches_text, .pieces =
            "piece,fabric,yarn,tool,stitches,rows\nstrip,single crochet,main,4 mm,width,10\n"}, &diags);
    struct hk_tally *tally = project ? hk_tally_count(project, &diags) : NULL;
    for (size_t i = 0; i < diags.count && !tally; i++)
        printf("%s:%zu: %s\n", diags.findings[i].at.file, diags.findings[i].at.line, diags.findings[i].message);
    if (!tally)
        exit(3);
    for (size_t run = 0; run < RUNS; run++)
        seconds[run] = fit_s(tally, &parameters);
    printf("%8u %10zu %6.2f\n", count, parameters, 1e3 * stopwatch_median(seconds, RUNS));
    hk_tally_free(tally);
    hk_project_free(project);
    hk_diags_free(&diags);
    free(swatches_text);
    free(yarns_text);
}

int main(void)
{
    struct hk_catalogue *catalogue = shipped_catalogue();
    printf("swatches parameters fit ms\n");
    for (unsigned count = 25; count <= 400; count *= 2)
        bench(catalogue, count);

    hk_catalogue_free(catalogue);
    return 0;
}
