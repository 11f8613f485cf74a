/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The letter as a document; quote_letter_json.c has the same as data. */
#include "quote_letter.h"

#include "findings.h"
#include "quote.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ---- Options ---- */

bool quote_letter_options(const struct options *options)
{
    static const uint64_t formats[] = {OPTION_JSON, OPTION_MARKDOWN, OPTION_HTML};
    const bool letter = options->given & OPTION_LETTER, json = options->given & OPTION_JSON;
    bool good = true;
    int asked = 0;
    for (size_t i = 0; i < sizeof formats / sizeof formats[0]; i++)
        asked += (options->given & formats[i]) != 0;
    if (asked > 1) {
        complain("one of --markdown, --html and --json at a time");
        good = false;
    }
    if (!letter && options->given & (OPTION_MARKDOWN | OPTION_HTML)) {
        complain("--%s goes with --letter",
                 options_name(options->given & OPTION_MARKDOWN ? OPTION_MARKDOWN : OPTION_HTML));
        good = false;
    }
    if (!letter && !json && options->given & OPTION_CLIENT && !(options->given & (OPTION_KIT | OPTION_PATTERN))) {
        complain("--client goes with --letter or --json");
        good = false;
    }
    return good;
}

/* ---- Parts ---- */

const char *quote_letter_period(int64_t days, bool weeks)
{
    static const char *const units[] = {"day", "days", "week", "weeks"};
    const int64_t count = weeks ? days / 7 : days;
    return units[2 * weeks + (count != 1)];
}

static struct number period_count(int64_t days, bool weeks)
{
    return number_whole(weeks ? days / 7 : days);
}

static bool same_colour(const struct hk_quote_yarn *a, const struct hk_quote_yarn *b)
{
    return strcmp(a->yarn, b->yarn) == 0 && strcmp(a->colour, b->colour) == 0;
}

/*
 * Collects the balls of all roles in this yarn and colour by mass, largest first, into `balls`, which has room for all.
 * Returns the number of masses.
 */
static size_t take_balls(const struct hk_quote_size *size, const struct hk_quote_yarn *of, struct hk_quote_balls *balls)
{
    size_t count = 0;
    for (size_t i = 0; i < size->yarn_count; i++)
        for (size_t k = 0; k < size->yarns[i].put_up_count && same_colour(&size->yarns[i], of); k++) {
            const struct hk_quote_balls *put_up = &size->yarns[i].put_ups[k];
            size_t at = 0;
            while (at < count && balls[at].put_up_g > put_up->put_up_g)
                at++;
            if (at < count && balls[at].put_up_g == put_up->put_up_g) {
                balls[at].balls += put_up->balls;
                continue;
            }
            memmove(balls + at + 1, balls + at, (count++ - at) * sizeof *balls);
            balls[at] = *put_up;
        }
    return count;
}

/* Returns "3 balls of 100 g and 3 balls of 50 g". Owner: the caller (free). NULL when memory runs out. */
static char *balls_words(const struct hk_quote_size *size, const struct hk_quote_yarn *yarn)
{
    size_t most = 1;
    for (size_t i = 0; i < size->yarn_count; i++)
        most += size->yarns[i].put_up_count;
    struct hk_quote_balls *balls = calloc(most, sizeof *balls);
    const size_t count = balls ? take_balls(size, yarn, balls) : 0;
    char *words = balls && !count ? text_format("none to buy") : NULL;
    bool good = balls;
    for (size_t i = 0; i < count && good; i++) {
        const char *before = i == 0 ? "" : i + 1 < count ? ", " : " and ";
        good = text_append(&words, "%s%s %s of %s g", before, number_whole(balls[i].balls).text,
                           balls[i].balls == 1 ? "ball" : "balls", number_label(balls[i].put_up_g).text);
    }
    free(balls);
    return words;
}

static void put_yarns(struct document *document, const struct hk_quote_size *size)
{
    for (size_t i = 0; i < size->yarn_count; i++) {
        const struct hk_quote_yarn *yarn = &size->yarns[i];
        size_t first = 0;
        while (!same_colour(&size->yarns[first], yarn))
            first++;
        if (first < i)
            continue;
        char *balls = balls_words(size, yarn);
        document_item(
            document,
            balls ? text_format("Yarn: %s%s%s, %s", yarn->yarn, *yarn->colour ? ", " : "", yarn->colour, balls) : NULL);
        free(balls);
    }
}

/* Writes "Finished size: bust 108 cm (42.5 in); length 54 cm (21.25 in)", inches in quarters. */
static void put_measures(struct document *document, const struct work *work, size_t size)
{
    char *words = NULL;
    bool good = true;
    for (size_t i = 0; i < hk_project_measures(work->project) && good; i++) {
        const struct hk_project_measure measure = hk_project_measure(work->project, i, size);
        const char *mark = words ? "; " : "";
        if (!isnan(measure.length_m))
            good = text_append(&words, "%s%s %s cm (%s in)", mark, measure.name,
                               number_stated(floor(1000 * measure.length_m + 0.5) / 10).text,
                               number_stated(floor(4 * measure.length_m / HK_M_PER_INCH + 0.5) / 4).text);
        else if (measure.count)
            good = text_append(&words, "%s%s %s", mark, measure.name, number_whole(measure.count).text);
    }
    if (words || !good)
        document_item(document, good ? text_format("Finished size: %s", words) : NULL);
    free(words);
}

/* Writes "Included: 7 buttons; washing and blocking; postage". */
static void put_included(struct document *document, const struct work *work, size_t size)
{
    char *words = NULL;
    bool good = true, posted = false;
    for (int kind = HK_INCLUDED_NOTION; kind <= HK_INCLUDED_POSTAGE; kind++)
        for (size_t i = 0; i < hk_project_costs(work->project) && good; i++) {
            const struct hk_project_cost cost = hk_project_cost(work->project, i, size);
            const bool counted = cost.included == HK_INCLUDED_NOTION && !isnan(cost.quantity);
            if ((int)cost.included != kind || (kind == HK_INCLUDED_POSTAGE && posted))
                continue;
            posted = kind == HK_INCLUDED_POSTAGE;
            good = text_append(&words, "%s%s%s%s", words ? "; " : "", counted ? number_stated(cost.quantity).text : "",
                               counted ? " " : "", posted ? "postage" : cost.item);
        }
    if (words || !good)
        document_item(document, good ? text_format("Included: %s", words) : NULL);
    free(words);
}

static bool paid_at_once(const struct hk_quote_size *size)
{
    return size->deposit_minor > 0 && size->deposit_minor == size->bill.paid_minor;
}

static void put_price(struct document *document, const struct work *work, const struct hk_quote *quote,
                      const struct hk_quote_size *size)
{
    const int64_t paid = size->bill.paid_minor, tax = size->bill.tax_minor;
    if (quote->tax_count > 0 && hk_project_letter(work->project).tax_separately)
        document_item(document,
                      text_format("Price: %s and %s tax, %s in all", quote_named_money(quote, paid - tax).text,
                                  quote_named_money(quote, tax).text, quote_named_money(quote, paid).text));
    else
        document_item(document, text_format("Price: %s%s", quote_named_money(quote, paid).text,
                                            quote->tax_count > 0 ? ", tax included" : ""));
    if (paid_at_once(size))
        document_item(document, text_format("Payment: all of it when it is ordered"));
    else if (size->deposit_minor > 0)
        document_item(document, text_format("Deposit: %s when it is ordered, %s when it is ready",
                                            quote_named_money(quote, size->deposit_minor).text,
                                            quote_named_money(quote, paid - size->deposit_minor).text));
}

static void put_terms(struct document *document, const struct hk_project_letter *letter,
                      const struct hk_quote_size *size)
{
    if (*letter->conditions)
        document_item(document, text_format("Terms: %s", letter->conditions));
    else if (paid_at_once(size))
        document_item(document, text_format("Terms: made to order; work begins when it is paid"));
    else if (size->deposit_minor > 0)
        document_item(document,
                      text_format("Terms: made to order; work begins when the deposit is paid, and the piece is "
                                  "sent when the rest is paid"));
    else
        document_item(document, text_format("Terms: made to order; the piece is sent when it is paid"));
    if (letter->valid_days)
        document_item(document, text_format("This offer is valid for %s %s.",
                                            period_count(letter->valid_days, letter->valid_weeks).text,
                                            quote_letter_period(letter->valid_days, letter->valid_weeks)));
}

static void put_hours(struct document *document, const struct hk_quote *quote, const struct hk_quote_size *size)
{
    const struct number hours = quote_hours(&size->hours);
    document_item(document, text_format("Time: about %s hour%s of work by hand%s", hours.text,
                                        strcmp(hours.text, "1") == 0 ? "" : "s",
                                        !quote->timed && size->hours.likely > size->stated_h ? ", a guess" : ""));
}

/* ---- The whole ---- */

bool quote_letter_write(struct document document, const struct work *work, const struct hk_quote *quote,
                        const struct options *options)
{
    const struct hk_project_letter letter = hk_project_letter(work->project);
    const struct hk_quote_size *size = &quote->sizes[0];
    const size_t project_size = pipeline_sizes(work).first;
    const bool sized = hk_project_sizes(work->project) > 1;
    document_title(&document, options->client && *options->client
                                  ? text_format("Quote for %s: %s", options->client, quote->project)
                                  : text_format("Quote: %s", quote->project));
    if (*letter.maker || *letter.place)
        document_item(&document, text_format("From: %s%s%s", letter.maker, *letter.maker && *letter.place ? ", " : "",
                                             letter.place));
    document_item(&document, text_format("Made to order: %s%s%s", quote->project, sized ? ", size " : "",
                                         sized ? size->size : ""));
    put_measures(&document, work, project_size);
    put_yarns(&document, size);
    put_included(&document, work, project_size);
    put_price(&document, work, quote, size);
    if (letter.ready_days)
        document_item(&document, text_format("Ready: about %s %s after it is ordered",
                                             period_count(letter.ready_days, letter.ready_weeks).text,
                                             quote_letter_period(letter.ready_days, letter.ready_weeks)));
    if (options->given & OPTION_HOURS && size->hours.likely > 0)
        put_hours(&document, quote, size);
    if (*letter.care)
        document_item(&document, text_format("Care: %s", letter.care));
    put_terms(&document, &letter, size);
    return document_end(&document);
}

void quote_letter_caution(struct text *text)
{
    text_paragraph(text,
                   "Before you send it: how tax is shown, and what an offer and a care label must say, follow local "
                   "rules, for children's things too. This is neither legal nor tax advice.");
}

enum outcome quote_letter(const struct work *work, const struct hk_quote *quote, const struct options *options,
                          FILE *out)
{
    const char *project = work->folder.path;
    struct text text = pipeline_text(out, project, options), beside = pipeline_text(stderr, project, options);
    struct markup markup = {.out = out};
    const struct document document = options->given & OPTION_MARKDOWN ? document_markdown(out)
                                     : options->given & OPTION_HTML   ? document_html(&markup, "quote")
                                                                      : document_text(&text);
    if (!quote_letter_write(document, work, quote, options)) {
        complain("out of memory");
        return FAILED;
    }
    const enum outcome outcome = text_outcome(&text);
    if (outcome != DONE)
        return outcome;
    quote_letter_caution(&beside);
    return text_outcome(&beside);
}
