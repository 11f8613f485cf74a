/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A host in C that knows hankful.h alone: threads TABLES [LOCALE]. A project that is in memory, answered once in the locale C and
 * then by four threads at the same time in LOCALE, whose decimal mark is a comma: every text must be the same. Prints it.
 */
#include <hankful.h>

#include <locale.h>
#include <pthread.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define THREADS 4
#define TIMES 3

static const struct hk_memory_file pouch[] = {
    {"project.csv", "field,value\ntitle,Rope pouch\nsizes,\"S (M)\"\ncurrency,EUR\n"},
    {"yarns.csv", "role,yarn,put_up,length,colour,fibre,price\nmain,Quay DK,62.5 g,151.5 m,Slate,wool,6.40\n"},
    {"offers.csv", "role,shop,put_up,price,stock\nmain,Mole shop,62.5 g,5.95,3\nmain,Harbour,25 g,2.80,20\n"},
    {"shops.csv", "shop,postage,free_from\nMole shop,4.95,60\nHarbour,2.50,\n"},
    {"swatches.csv", "swatch,yarn,tool,fabric,stitches,rows,gauge,weight,scale_step,minutes\n"
                     "plain,main,4.5 mm,single crochet,20,20,17.5 x 20.5,9.4 g,0.1 g,25\n"},
    {"pieces.csv", "piece,fabric,yarn,tool,stitches,rows\nbag,single crochet,main,4.5 mm,60 (70),48 (56)\n"},
    {NULL, NULL},
};

struct page {
    char text[8192];
    size_t length;
};

static void put(struct page *page, const char *text)
{
    const int written = snprintf(page->text + page->length, sizeof page->text - page->length, "%s\n", text);
    page->length += written > 0 ? (size_t)written : 0;
    if (page->length >= sizeof page->text)
        abort();
}

static void put_need(struct page *page, const struct hk_need *need)
{
    for (size_t r = 0; r < need->role_count; r++) {
        put(page, hk_number_text(need->roles[r].mass_g.enough, 6).text);
        put(page, hk_number_text(need->roles[r].length_m.likely, 6).text);
    }
}

static void put_materials(struct page *page, const struct hk_materials *materials)
{
    for (size_t y = 0; y < materials->yarn_count; y++) {
        put(page, materials->yarns[y].put_up_text);
        put(page, materials->yarns[y].colours[0].length.metric_text);
        put(page, materials->yarns[y].colours[0].mass.customary_text);
    }
    for (size_t t = 0; t < materials->tool_count; t++)
        put(page, materials->tools[t].text);
    for (size_t g = 0; g < materials->gauge_count; g++)
        put(page, materials->gauges[g].text);
}

static void put_shop(struct page *page, const struct hk_shop *shop)
{
    char total[HK_MONEY_TEXT];
    for (size_t s = 0; s < shop->size_count; s++) {
        hk_money_text(shop->sizes[s].total_minor, shop->minor_digits, total);
        put(page, total);
    }
}

static void put_findings(struct page *page, struct hk_diags *diags)
{
    hk_diags_sort(diags);
    for (size_t i = 0; i < hk_diags_count(diags); i++)
        put(page, hk_diags_finding(diags, i)->message);
}

/* All that is said of the pouch. False where something failed. */
static bool answer(const char *folder, struct page *page)
{
    const struct hk_source tables = hk_source_inside(folder), project = hk_source_memory(pouch);
    struct hk_diags diags = {0};
    struct hk_design *design = hk_design_read(&tables, &project, hk_need_defaults(), &diags);
    const struct hk_need *need = design ? hk_design_need(design) : NULL;
    struct hk_materials *materials = need ? hk_materials_make(need, hk_materials_defaults(), &diags) : NULL;
    struct hk_shop *shop = need ? hk_shop_plan(need, hk_shop_defaults(), &diags) : NULL;
    page->length = 0;
    if (materials && shop) {
        put_need(page, need);
        put_materials(page, materials);
        put_shop(page, shop);
    }
    put_findings(page, &diags);
    const bool good = materials && shop && hk_diags_ok(&diags);
    hk_shop_free(shop);
    hk_materials_free(materials);
    hk_design_free(design);
    hk_diags_free(&diags);
    return good;
}

struct worker {
    pthread_t thread;
    const char *tables, *expected;
    bool good;
};

static void *work(void *given)
{
    struct worker *worker = given;
    struct page page;
    worker->good = true;
    for (int i = 0; i < TIMES && worker->good; i++)
        worker->good = answer(worker->tables, &page) && strcmp(page.text, worker->expected) == 0;
    return NULL;
}

int main(int argc, char **argv)
{
    struct page page;
    hk_gsl_errors_off();
    if (argc < 2 || !answer(argv[1], &page)) {
        fprintf(stderr, "no answer: %s", argc < 2 ? "no folder of tables is named\n" : page.text);
        return 1;
    }
    if (argc > 2 && (!setlocale(LC_ALL, argv[2]) || strcmp(localeconv()->decimal_point, ",") != 0)) {
        fprintf(stderr, "%s is no locale with a decimal comma\n", argv[2]);
        return 1;
    }
    struct worker workers[THREADS];
    for (size_t i = 0; i < THREADS; i++) {
        workers[i] = (struct worker){.tables = argv[1], .expected = page.text};
        if (pthread_create(&workers[i].thread, NULL, work, &workers[i]) != 0)
            return 1;
    }
    bool good = true;
    for (size_t i = 0; i < THREADS; i++) {
        pthread_join(workers[i].thread, NULL);
        good = good && workers[i].good;
    }
    fputs(page.text, stdout);
    if (!good)
        fputs("a thread has another answer\n", stderr);
    return good ? 0 : 1;
}
