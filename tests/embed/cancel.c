/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A host in C that ends a search: cancel TABLES. Of many offers in many shops the cheapest basket takes long to prove, and the time
 * for it is a day. The watch ends it at its fifth call; nothing comes of it but one finding, and soon.
 */
#include <hankful.h>

#include <stdio.h>
#include <stdlib.h>

#define SHOPS 12
#define OFFERS 160
#define CALLS 5

struct watched {
    int calls;
    double done;
    bool falls;
};

static bool go_on(void *host, double done)
{
    struct watched *watched = host;
    watched->falls = watched->falls || done < watched->done || done > 1;
    watched->done = done;
    return ++watched->calls < CALLS;
}

static unsigned next(unsigned *seed)
{
    *seed = *seed * 1103515245u + 12345u;
    return *seed >> 16;
}

/* Balls of many masses, whose prices lie close together: of such baskets none is plainly the cheapest. */
static void list_offers(char *offers, size_t offers_size, char *shops, size_t shops_size)
{
    unsigned seed = 7;
    size_t at = (size_t)snprintf(offers, offers_size, "role,shop,put_up,price,stock\n");
    for (int i = 0; i < OFFERS; i++) {
        const unsigned grams = 17 + next(&seed) % 90;
        at += (size_t)snprintf(offers + at, offers_size - at, "%s,shop %d,%u g,%u.%02u,%u\n", i % 3 ? i % 3 == 1 ? "main" : "trim" : "lace",
                               i % SHOPS, grams, grams / 10 + 1, next(&seed) % 100, 2 + next(&seed) % 5);
    }
    at = (size_t)snprintf(shops, shops_size, "shop,postage,free_from,off_from,off_percent\n");
    for (int i = 0; i < SHOPS; i++)
        at += (size_t)snprintf(shops + at, shops_size - at, "shop %d,%u.95,%u,%u,%u%%\n", i, 2 + next(&seed) % 5, 60 + next(&seed) % 60,
                               40 + next(&seed) % 60, 5 + next(&seed) % 10);
}

int main(int argc, char **argv)
{
    static char offers[OFFERS * 64], shops[SHOPS * 64];
    const struct hk_memory_file files[] = {
        {"project.csv", "field,value\ntitle,Sail blanket\nsizes,one\ncurrency,EUR\nlots,may mix\n"},
        {"yarns.csv", "role,yarn,put_up,length\nmain,Quay DK,50 g,120 m\ntrim,Quay Aran,50 g,90 m\nlace,Quay Lace,50 g,400 m\n"},
        {"offers.csv", offers},
        {"shops.csv", shops},
        {"pieces.csv", "piece,fabric,yarn,tool,stitches,rows\nfield,single crochet,main,4 mm,180,220\n"
                       "border,single crochet,trim,5 mm,150,160\nedge,double crochet,lace,2.5 mm,300,200\n"},
        {NULL, NULL},
    };
    if (argc != 2)
        return 1;
    list_offers(offers, sizeof offers, shops, sizeof shops);
    hk_gsl_errors_off();
    struct hk_diags diags = {0};
    const struct hk_source tables = hk_source_inside(argv[1]), folder = hk_source_memory(files);
    struct hk_design *design = hk_design_read(&tables, &folder, hk_need_defaults(), &diags);
    struct watched watched = {0};
    struct hk_shop_options options = hk_shop_defaults();
    options.seconds = 86400;
    options.watch.go_on = go_on;
    options.watch.host = &watched;
    struct hk_shop *shop = design ? hk_shop_plan(hk_design_need(design), options, &diags) : NULL;
    bool cancelled = false;
    for (size_t i = 0; i < hk_diags_count(&diags); i++) {
        const struct hk_finding *finding = hk_diags_finding(&diags, i);
        if (finding->code == HK_CODE_CANCELLED)
            cancelled = true;
        else if (hk_code_severity(finding->code) == HK_SEVERITY_ERROR)
            printf("%s: %s\n", finding->at.file ? finding->at.file : "", finding->message);
    }
    const bool good = design && !shop && cancelled && hk_diags_errors(&diags) == 1 && watched.calls == CALLS && !watched.falls;
    printf("%s after %d calls\n", cancelled ? "cancelled" : "not cancelled", watched.calls);
    hk_shop_free(shop);
    hk_design_free(design);
    hk_diags_free(&diags);
    return good ? 0 : 1;
}
