/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A price list of 60 MB (invented): libcsv alone, which tells its cells apart and keeps none, beside our table, which keeps
 * all cells and their places, and beside the whole project that has the list as its offers.csv, every price and amount
 * understood. All of it from memory. Asserts nothing but equal numbers of cells.
 *
 *     ninja -C BUILD tests/bench_reading && BUILD/tests/bench_reading [MB]
 */
#include "../folder.h"
#include "stopwatch.h"

#include <csv.h>
#include <malloc.h>
#include <stdio.h>
#include <string.h>

#define RUNS 3
#define BLOCK_BYTES ((size_t)64 << 10)
#define ROW_MOST 200

/* Owner: the caller (free). */
static char *price_list(size_t bytes)
{
    static const char *const shops[] = {"Quay Wool", "\"Tide, Twine and Co\"", "Harbour", "Ropewalk", "Lantern Yarns"};
    char *text = malloc(bytes + ROW_MOST);
    if (!text)
        exit(3);
    size_t used = (size_t)sprintf(text, "role,shop,put_up,price,yarn,colour,lot,length,pack,stock\n");
    for (unsigned i = 0; used < bytes; i++)
        used += (size_t)sprintf(text + used, "%s,%s,%s g,%u.%02u,%s,Slate,%u,%s m,%s,%u\n", i % 3 ? "main" : "lace",
                                shops[i % 5], i % 3 ? "50" : "25", 2 + i % 9, i % 100, i % 3 ? "Quay DK" : "Quay Lace",
                                i / 5, i % 3 ? "120" : "210", i % 7 ? "" : "5", 1 + i % 40);
    return text;
}

static void count_cell(void *bytes, size_t length, void *context)
{
    (void)bytes;
    (void)length;
    ++*(size_t *)context;
}

static double libcsv_s(const char *text, size_t *cells)
{
    const double start = cpu_s();
    const size_t bytes = strlen(text);
    struct csv_parser parser;
    *cells = 0;
    if (csv_init(&parser, CSV_STRICT | CSV_STRICT_FINI | CSV_APPEND_NULL) != 0)
        exit(3);
    for (size_t at = 0; at < bytes; at += BLOCK_BYTES) {
        const size_t piece = bytes - at < BLOCK_BYTES ? bytes - at : BLOCK_BYTES;
        if (csv_parse(&parser, text + at, piece, count_cell, NULL, cells) != piece)
            exit(3);
    }
    csv_fini(&parser, count_cell, NULL, cells);
    csv_free(&parser);
    return cpu_s() - start;
}

static double table_s(const char *text, size_t cells, size_t *held)
{
    const struct memory_file files[] = {{"offers.csv", text, 0}, {0}};
    const struct hk_source source = memory_source(files);
    struct hk_diags diags = {0};
    const size_t before = mallinfo2().uordblks + mallinfo2().hblkhd;
    const double start = cpu_s();
    struct hk_table *table =
        hk_table_read(&source, "offers.csv", (struct hk_table_options){.most_bytes = HK_CATALOGUE_BYTES}, &diags);
    const double taken = cpu_s() - start;
    *held = mallinfo2().uordblks + mallinfo2().hblkhd - before;
    if (!table || diags.count || (hk_table_rows(table) + 1) * hk_table_columns(table) != cells)
        exit(3);
    hk_table_free(table);
    return taken;
}

static double project_s(const struct hk_catalogue *catalogue, const char *text, size_t *held)
{
    struct hk_diags diags = {0};
    const size_t before = mallinfo2().uordblks + mallinfo2().hblkhd;
    const double start = cpu_s();
    struct hk_project *project =
        folder_read(catalogue, (struct folder){.other_name = "offers.csv", .other_text = text}, &diags);
    const double taken = cpu_s() - start;
    *held = mallinfo2().uordblks + mallinfo2().hblkhd - before;
    if (!project)
        exit(3);
    hk_project_free(project);
    hk_diags_free(&diags);
    return taken;
}

static void say(const char *what, double seconds, double alone, size_t held)
{
    printf("%-22s %7.2f %8.2f %7zu\n", what, seconds, seconds / alone, held >> 20);
}

int main(int argc, char **argv)
{
    double seconds[3][RUNS];
    size_t cells, held[3] = {0};
    const size_t bytes = (argc > 1 ? strtoul(argv[1], NULL, 10) : 60) << 20;
    char *text = price_list(bytes);
    struct hk_catalogue *catalogue = shipped_catalogue();
    for (size_t run = 0; run < RUNS; run++) {
        seconds[0][run] = libcsv_s(text, &cells);
        seconds[1][run] = table_s(text, cells, &held[1]);
        seconds[2][run] = project_s(catalogue, text, &held[2]);
    }
    const double alone = stopwatch_median(seconds[0], RUNS);
    printf("%zu MB of offers.csv      s    ratio  MB held\n", bytes >> 20);
    say("libcsv alone", alone, alone, 0);
    say("table", stopwatch_median(seconds[1], RUNS), alone, held[1]);
    say("project", stopwatch_median(seconds[2], RUNS), alone, held[2]);
    hk_catalogue_free(catalogue);
    free(text);
    return 0;
}
