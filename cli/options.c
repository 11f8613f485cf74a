/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "options.h"

#include "added.h"
#include "complain.h"
#include "hankful.h"

#include <getopt.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

struct choice {
    const char *word; /* matched in any letter case; NULL ends the list */
    int value;
};

/*
 * A kind of value: the conversion from a word to a member of struct options. `take` returns false, with a message, on
 * wrong usage.
 */
struct kind {
    bool (*take)(const struct kind *kind, const char *option, const char *word, void *place);
    const char *noun; /* name of a whole number: "number of kits" */
    double least, most;
    const struct choice *choices;
};

/* An option of several commands has one row for each help text; the parser uses the first row. */
struct row {
    uint64_t bit;
    const char *name, *value; /* "N" */
    const struct kind *kind;  /* NULL: the option takes no value */
    size_t offset;            /* offset of the value in struct options */
    unsigned commands;        /* COMMAND_... */
    const char *help;
};

/*
 * Reads digits with one decimal mark, point or comma, up to the end of the text or up to `after`; no sign, no exponent,
 * in any locale. Returns false for any other text.
 */
static bool scan_number(const char *word, const char *after, double *value)
{
    double whole = 0, unit = 1;
    size_t digits = 0;
    bool marked = false;
    for (; *word && strcmp(word, after) != 0; word++) {
        if (*word >= '0' && *word <= '9' && digits < 15) {
            whole = 10 * whole + (*word - '0');
            unit *= marked ? 10 : 1;
            digits++;
        } else if ((*word == '.' || *word == ',') && !marked) {
            marked = true;
        } else {
            return false;
        }
    }
    *value = whole / unit;
    return digits && strcmp(word, after) == 0;
}

/* ---- Kinds of value ---- */

static bool take_text(const struct kind *kind, const char *option, const char *word, void *place)
{
    (void)kind;
    (void)option;
    *(const char **)place = word;
    return true;
}

static bool take_files(const struct kind *kind, const char *option, const char *word, void *place)
{
    (void)kind;
    (void)option;
    return added_parse(word, place);
}

/* Reads "95%" or 0.95. */
static bool scan_chance(const char *option, const char *word, double *chance)
{
    double read;
    if (scan_number(word, "%", &read) || scan_number(word, " %", &read))
        read /= 100;
    else if (!scan_number(word, "", &read))
        read = 0;
    if (!(read > 0 && read < 1)) {
        complain("--%s: \"%s\" is no chance between 0 and 1; write 95%% or 0.95", option, word);
        return false;
    }
    *chance = read;
    return true;
}

static bool take_chance(const struct kind *kind, const char *option, const char *word, void *place)
{
    (void)kind;
    if (!scan_chance(option, word, place))
        return false;
    const double chance = *(double *)place;
    if (chance < 0.5)
        complain("--%s: with %s%% the yarn is less than is likely to be used; it is the chance that the yarn is enough",
                 option, hk_number_text(100 * chance, 6).text);
    return true;
}

static bool take_sure(const struct kind *kind, const char *option, const char *word, void *place)
{
    (void)kind;
    return scan_chance(option, word, place);
}

static bool take_whole(const struct kind *kind, const char *option, const char *word, void *place)
{
    double number;
    if (strpbrk(word, ".,") || !scan_number(word, "", &number) || number < kind->least || number > kind->most) {
        complain("--%s: \"%s\" is not a %s; write a whole number from %.0f to %.0f", option, word, kind->noun, kind->least,
                 kind->most);
        return false;
    }
    *(int64_t *)place = (int64_t)number;
    return true;
}

static bool take_seconds(const struct kind *kind, const char *option, const char *word, void *place)
{
    double seconds;
    if (!scan_number(word, "", &seconds) || seconds < kind->least || seconds > kind->most) {
        complain("--%s: \"%s\" is no time to search; write seconds from %s to %.0f", option, word,
                 hk_number_text(kind->least, 6).text, kind->most);
        return false;
    }
    *(double *)place = seconds;
    return true;
}

/* Reads "50%", or a bare number below 1 such as 0.5, to the ten-thousandth of a percent. */
static bool take_percent(const struct kind *kind, const char *option, const char *word, void *place)
{
    double ratio = -1;
    if (scan_number(word, "%", &ratio) || scan_number(word, " %", &ratio))
        ratio /= 100;
    else if (!scan_number(word, "", &ratio) || ratio > 1)
        ratio = -1;
    else if (ratio == 1 && kind->most >= 1) {
        complain("--%s: \"%s\" can be read in two ways; write 1%% or 100%%", option, word);
        return false;
    }
    if (!(ratio >= 0 && ratio <= kind->most)) {
        complain("--%s: \"%s\" is no percentage from 0%% to %s%%; write it like 5%%", option, word,
                 hk_number_text(100 * kind->most, 6).text);
        return false;
    }
    *(int64_t *)place = (int64_t)(ratio * 1e6 + 0.5);
    return true;
}

bool options_share(const char *option, const char *word, double most, int64_t *millionths)
{
    const struct kind kind = {.most = most};
    return take_percent(&kind, option, word, millionths);
}

static bool take_discount(const struct kind *kind, const char *option, const char *word, void *place)
{
    struct discounts *discounts = place;
    const size_t most = sizeof discounts->millionths / sizeof discounts->millionths[0];
    if (discounts->count == most) {
        complain("--%s: more than %zu of them", option, most);
        return false;
    }
    return take_percent(kind, option, word, &discounts->millionths[discounts->count++]);
}

/* Formats "US or UK" or "cost, length, mass or balls". */
static void list_choices(const struct choice *choices, char *words, size_t size)
{
    size_t length = 0;
    for (size_t i = 0; choices[i].word; i++)
        length += (size_t)snprintf(words + length, size - length, "%s%s",
                                   i == 0                ? ""
                                   : choices[i + 1].word ? ", "
                                                         : " or ",
                                   choices[i].word);
}

static bool take_choice(const struct kind *kind, const char *option, const char *word, void *place)
{
    char words[100];
    for (const struct choice *choice = kind->choices; choice->word; choice++) {
        if (strcasecmp(word, choice->word) == 0) {
            *(int *)place = choice->value;
            return true;
        }
    }
    list_choices(kind->choices, words, sizeof words);
    complain("--%s: \"%s\" is no choice here; write %s", option, word, words);
    return false;
}

/* ---- The options ---- */

static const struct choice orders[] = {{"cost", HK_COMPARE_ORDER_COST},
                                       {"length", HK_COMPARE_ORDER_LENGTH},
                                       {"mass", HK_COMPARE_ORDER_MASS},
                                       {"balls", HK_COMPARE_ORDER_BALLS},
                                       {NULL, 0}};
static const struct choice terms[] = {{"US", HK_TERMS_WANTED_US}, {"UK", HK_TERMS_WANTED_UK}, {NULL, 0}};
static const struct choice units[] = {
    {"metric", HK_UNITS_METRIC}, {"imperial", HK_UNITS_IMPERIAL}, {"both", HK_UNITS_BOTH}, {NULL, 0}};
static const struct choice steps[] = {{"1", 1}, {"5", 5}, {"10", 10}, {"25", 25}, {"50", 50}, {"100", 100}, {NULL, 0}};

static const struct kind text_kind = {.take = take_text}, files_kind = {.take = take_files},
                         chance_kind = {.take = take_chance},
                         seconds_kind = {.take = take_seconds, .least = 0.01, .most = 86400},
                         share_kind = {.take = take_percent, .most = 1},
                         discount_kind = {.take = take_discount, .most = 0.9999}, sure_kind = {.take = take_sure},
                         sales_kind = {.take = take_whole, .noun = "number of sales", .least = 1, .most = 1000000},
                         order_kind = {.take = take_choice, .choices = orders},
                         terms_kind = {.take = take_choice, .choices = terms},
                         units_kind = {.take = take_choice, .choices = units},
                         step_kind = {.take = take_choice, .choices = steps},
                         width_kind = {.take = take_whole, .noun = "width", .least = 40, .most = 1000},
                         yarns_kind = {.take = take_whole, .noun = "number of yarns", .least = 1, .most = 1000000},
                         kits_kind = {.take = take_whole, .noun = "number of kits", .least = 1, .most = 100000},
                         times_kind = {
                             .take = take_whole, .noun = "number of makings", .least = 1, .most = HK_SHOP_TIMES_MOST};

bool options_kits(const char *option, const char *word, int64_t *kits)
{
    return take_whole(&kits_kind, option, word, kits);
}

#define AT(field) offsetof(struct options, field)
#define FLAG NULL, NULL, 0

static const struct row rows[] = {
    {OPTION_SIZE, "size", "S", &text_kind, AT(size),
     COMMAND_CHECK | COMMAND_NEED | COMMAND_SHOP | COMMAND_MATERIALS | COMMAND_PATTERN | COMMAND_QUOTE |
         COMMAND_REPORT | COMMAND_FROM,
     "one size, in place of all"},
    {OPTION_SIZE, "size", "S", &text_kind, AT(size), COMMAND_LEFT,
     "the size in hand; else the only one in progress.csv"},
    {OPTION_SIZE, "size", "S", &text_kind, AT(size), COMMAND_COMPARE,
     "the size to compare in, in place of the middle one"},
    {OPTION_CHANCE, "chance", "P", &chance_kind, AT(chance),
     COMMAND_CHECK | COMMAND_NEED | COMMAND_SHOP | COMMAND_COMPARE | COMMAND_MATERIALS | COMMAND_QUOTE |
         COMMAND_REPORT | COMMAND_LEFT | COMMAND_FROM,
     "the chance that the yarn is enough, such as 95% or 0.95"},
    {OPTION_JSON, "json", FLAG, COMMAND_ALL & ~COMMAND_NEW, "the answer as JSON, for other programs"},
    {OPTION_WHY, "why", FLAG, COMMAND_NEED, "the range too, its causes, and ways to narrow it"},
    {OPTION_WHERE, "where", FLAG, COMMAND_NEED, "the yarn of every piece too"},
    {OPTION_WHY, "why", FLAG, COMMAND_SHOP, "how the number was found too"},
    {OPTION_WHY, "why", FLAG, COMMAND_COMPARE, "the reasons for each verdict and amount too, and the finished piece"},
    {OPTION_WHERE, "where", FLAG, COMMAND_SHOP, "where each ball is bought too; shown for one size"},
    {OPTION_STEPS, "steps", FLAG, COMMAND_SHOP, "a ball or two fewer and more too, for every size and role"},
    {OPTION_ASSUMPTIONS, "assumptions", FLAG,
     COMMAND_NEED | COMMAND_SHOP | COMMAND_COMPARE | COMMAND_MATERIALS | COMMAND_QUOTE | COMMAND_LEFT | COMMAND_FROM,
     "what the answer assumes, in place of the number"},
    {OPTION_ALL, "all", FLAG,
     COMMAND_CHECK | COMMAND_NEED | COMMAND_SHOP | COMMAND_COMPARE | COMMAND_MATERIALS | COMMAND_QUOTE,
     "every section of the answer"},
    {OPTION_EACH, "each", FLAG, COMMAND_NEED, "a line of JSON for each folder of a list"},
    {OPTION_EVIDENCE, "evidence", FLAG, COMMAND_NEED, "every weighing too, with its expected value and effect"},
    {OPTION_TOGETHER, "together", FLAG, COMMAND_SHOP, "one basket for all sizes, in place of one for each"},
    {OPTION_TIMES, "times", "N", &times_kind, AT(times), COMMAND_SHOP,
     "the number of times that each size is made; 1 if not stated"},
    {OPTION_LIST, "list", FLAG, COMMAND_SHOP, "a shopping list to print or paste"},
    {OPTION_SECONDS, "seconds", "N", &seconds_kind, AT(seconds), COMMAND_SHOP | COMMAND_QUOTE | COMMAND_REPORT,
     "the time limit of the search for a basket; 10 if not stated"},
    {OPTION_PROJECT, "project", "FOLDER", &text_kind, AT(project), COMMAND_CONVERT,
     "the project whose yarns may be named"},
    {OPTION_ROLE, "role", "R", &text_kind, AT(role), COMMAND_COMPARE, "the role that other yarns are compared for"},
    {OPTION_YARNS, "yarns", "FILE", &text_kind, AT(yarns), COMMAND_COMPARE,
     "a catalogue of yarns, in place of those in yarns.csv"},
    {OPTION_BY, "by", "ORDER", &order_kind, AT(by), COMMAND_COMPARE,
     "the order of the yarns: cost, length, mass or balls"},
    {OPTION_HELD_TOGETHER, "held-together", FLAG, COMMAND_COMPARE, "pairs of yarns held together too"},
    {OPTION_MOST, "most", "N", &yarns_kind, AT(most), COMMAND_COMPARE, "the most yarns to show; 10 if not stated"},
    {OPTION_ROUND, "round", "N", &step_kind, AT(round), COMMAND_MATERIALS,
     "the step of rounding: 1, 5, 10, 25, 50 or 100; 10 if not stated"},
    {OPTION_TERMS, "terms", "T", &terms_kind, AT(terms), COMMAND_MATERIALS | COMMAND_PATTERN | COMMAND_REPORT,
     "US or UK terms, in place of the project's"},
    {OPTION_UNITS, "units", "U", &units_kind, AT(units), COMMAND_MATERIALS | COMMAND_REPORT,
     "metric, imperial or both units; both if not stated"},
    {OPTION_LISTING, "listing", FLAG, COMMAND_MATERIALS, "one paragraph for a shop page, in place of the block"},
    {OPTION_PLAIN, "plain", FLAG, COMMAND_MATERIALS, "amounts without the chances that they are enough"},
    {OPTION_MARKDOWN, "markdown", FLAG, COMMAND_CHECK, "the table of --table as Markdown"},
    {OPTION_MARKDOWN, "markdown", FLAG, COMMAND_MATERIALS, "the materials as Markdown"},
    {OPTION_MARKDOWN, "markdown", FLAG, COMMAND_PATTERN, "the pattern as Markdown"},
    {OPTION_MARKDOWN, "markdown", FLAG, COMMAND_QUOTE, "the letter as Markdown"},
    {OPTION_HTML, "html", FLAG, COMMAND_QUOTE, "the letter as a section of HTML"},
    {OPTION_HTML, "html", FLAG, COMMAND_MATERIALS, "the materials as a section of HTML"},
    {OPTION_CSV, "csv", FLAG, COMMAND_CHECK, "the table of --table as CSV"},
    {OPTION_CSV, "csv", FLAG, COMMAND_MATERIALS, "the materials as CSV, one size a column"},
    {OPTION_KIT, "kit", FLAG, COMMAND_QUOTE, "a kit, in place of a commission"},
    {OPTION_PATTERN, "pattern", FLAG, COMMAND_NEW, "a project with a written pattern"},
    {OPTION_PATTERN, "pattern", FLAG, COMMAND_QUOTE, "the pattern alone, in place of a commission"},
    {OPTION_PATTERN, "pattern", FLAG, COMMAND_REPORT, "the page for readers of the pattern"},
    {OPTION_PRICE, "price", "P", &text_kind, AT(price), COMMAND_QUOTE | COMMAND_REPORT,
     "the price to answer for, in place of the price to ask"},
    {OPTION_ENDING, "ending", "E", &text_kind, AT(ending), COMMAND_QUOTE | COMMAND_REPORT,
     "the ending of the price to ask: .00, .50, .95, 9.95"},
    {OPTION_SURE, "sure", "P", &sure_kind, AT(sure), COMMAND_QUOTE | COMMAND_REPORT,
     "the price that pays your hourly rate with this chance, such as 80%"},
    {OPTION_DEPOSIT, "deposit", "D", &text_kind, AT(deposit), COMMAND_QUOTE | COMMAND_REPORT,
     "the part to pay with the order: 30%, or an amount; 50% if not stated"},
    {OPTION_PRICES, "prices", FLAG, COMMAND_QUOTE, "a list of the prices of all sizes"},
    {OPTION_DISCOUNT, "discount", "D", &discount_kind, AT(discounts), COMMAND_QUOTE,
     "for --prices: a reduced price beside each, such as 50%; may be repeated"},
    {OPTION_HOURS, "hours", FLAG, COMMAND_QUOTE, "where the hours go too, with the ranges of hours and pay"},
    {OPTION_WHY, "why", FLAG, COMMAND_QUOTE, "what the price covers too, and what would change it"},
    {OPTION_WHERE, "where", FLAG, COMMAND_QUOTE, "for --kit: the yarn of a kit too, and what to buy for the batch"},
    {OPTION_CSV, "csv", FLAG, COMMAND_QUOTE, "the list of --prices as CSV"},
    {OPTION_USED_YARN, "used-yarn", FLAG, COMMAND_QUOTE | COMMAND_REPORT,
     "yarn by the amount used, in place of whole balls"},
    {OPTION_LETTER, "letter", FLAG, COMMAND_QUOTE, "a quote to send to a client"},
    {OPTION_CLIENT, "client", "NAME", &text_kind, AT(client), COMMAND_QUOTE, "who the letter is to"},
    {OPTION_CLIENT, "client", "NAME", &text_kind, AT(client), COMMAND_REPORT, "the page for a client, about one size"},
    {OPTION_BATCH, "batch", "N", &text_kind, AT(batch), COMMAND_QUOTE,
     "the kits made at a time: a number, 10 if not stated, or \"S 2, M 5\""},
    {OPTION_WASTE, "waste", "W", &share_kind, AT(waste_millionths), COMMAND_QUOTE,
     "the share of yarn that winding kits loses, such as 2%"},
    {OPTION_SPARE, "spare", "S", &share_kind, AT(spare_millionths), COMMAND_QUOTE,
     "the share bought beyond the batch, such as 5%"},
    {OPTION_CODE, "code", "C", &text_kind, AT(code), COMMAND_QUOTE,
     "the discount of a code on a kit or pattern: 20%, or an amount"},
    {OPTION_SALES, "sales", "N", &sales_kind, AT(sales), COMMAND_QUOTE,
     "for --pattern: the price that pays the fixed costs by this number of sales"},
    {OPTION_PARTS, "parts", FLAG, COMMAND_CHECK, "the stitches of every part, with long shaping in short"},
    {OPTION_ROWS, "rows", FLAG, COMMAND_CHECK, "the stitches of every row, in --table too"},
    {OPTION_LENGTHS, "lengths", FLAG, COMMAND_CHECK, "the lengths asked for, and those that the stitches have"},
    {OPTION_PROSE, "prose", FLAG, COMMAND_CHECK, "the lines of pattern.txt that are not read"},
    {OPTION_ASSUMPTIONS, "assumptions", FLAG, COMMAND_CHECK, "what the answers assume, and what was accepted"},
    {OPTION_SPREADS, "spreads", FLAG, COMMAND_CHECK, "finished work and testers against their forecasts"},
    {OPTION_TABLE, "table", FLAG, COMMAND_CHECK, "a table to print, of the stitches in graded notation"},
    {OPTION_CHANGES, "changes", FLAG, COMMAND_PATTERN, "the words and numbers that change, in place of the pattern"},
    {OPTION_FROM, "from", "FILE", &text_kind, AT(from), COMMAND_NEW, "a written pattern to begin with"},
    {OPTION_ADD, "add", "FILES", &files_kind, AT(add), COMMAND_NEW,
     "explained files to add: costs, offers, shops, progress, grade, swatches, testers"},
    {OPTION_SVG, "svg", "DIR", &text_kind, AT(svg), COMMAND_REPORT,
     "the pictures as files in DIR, in place of the page"},
    {OPTION_DONE, "done", "WORK", &text_kind, AT(done), COMMAND_LEFT,
     "what is worked: \"back, front 40 rows\"; beside progress.csv, or in its place"},
    {OPTION_USED, "used", "G", &text_kind, AT(used), COMMAND_LEFT,
     "for --done: what it weighs: \"118 g\", or \"main 118 g, trim 20 g\""},
    {OPTION_LEFT, "left", "G", &text_kind, AT(left), COMMAND_LEFT,
     "the yarn that is left, on the scale now: \"37 g\", or \"main 37 g, trim 5 g\""},
    {OPTION_HAVE, "have", "B", &text_kind, AT(have), COMMAND_LEFT,
     "the yarn there was before the work: \"4 balls\", \"main 4 balls, trim 60 g\""},
    {OPTION_HAVE, "have", "B", &text_kind, AT(have), COMMAND_FROM,
     "the yarn in hand: \"4 balls\", \"main 4 balls, trim 60 g\"; else that at home in offers.csv"},
    {OPTION_VARY, "vary", "PIECE", &text_kind, AT(vary), COMMAND_FROM,
     "in one size: how many of this piece, or how many rows of it"},
    {OPTION_TABLES, "tables", "DIR", &text_kind, AT(tables), COMMAND_ALL, "the folder of the shipped tables"},
    {OPTION_WIDTH, "width", "N", &width_kind, AT(width), COMMAND_ALL,
     "the columns of text, in place of the terminal's"},
    {OPTION_HELP, "help", FLAG, COMMAND_ALL, "this help; also -h"},
    {OPTION_VERSION, "version", FLAG, COMMAND_ALL, "the release"},
};
enum { row_count = sizeof rows / sizeof rows[0], first_value = 256 };

/* Reports an unknown option, "--chanse=90%", with the nearest one, without the text after the sign. */
static void complain_unknown(const char *word)
{
    const char *names[row_count];
    char name[40];
    const char *start = word + (word[0] == '-') + (word[0] == '-' && word[1] == '-');
    snprintf(name, sizeof name, "%.*s", (int)strcspn(start, "="), start);
    for (size_t i = 0; i < row_count; i++)
        names[i] = rows[i].name;
    const size_t nearest = hk_nearest_name(name, names, row_count);
    if (nearest == HK_NO_NAME)
        complain("unknown option \"%s\"; \"hankful --help\" lists them, and \"--\" ends them", word);
    else
        complain("unknown option \"%s\"; did you mean --%s?", word, names[nearest]);
}

/*
 * Returns the word that has the letter. For "-size" getopt reads single letters and stays at the word until the last
 * one.
 */
static const char *word_of_letter(char **argv, int letter)
{
    const char *word = argv[optind];
    if (word && word[0] == '-' && word[1] != '-' && strchr(word, letter))
        return word;
    return optind > 0 ? argv[optind - 1] : "";
}

/*
 * Reports an error of getopt_long, which has just passed the argument. `said`: the last word with unknown letters that
 * was reported.
 */
static void complain_option(int found, char **argv, const char **said)
{
    const char *word = optind > 0 ? argv[optind - 1] : "";
    const size_t row = (size_t)(optopt - first_value);
    if (found == ':' && optopt >= first_value)
        complain("--%s needs a value: --%s %s", rows[row].name, rows[row].name, rows[row].value);
    else if (optopt >= first_value)
        complain("--%s takes no value", rows[row].name);
    else if (!optopt)
        complain_unknown(word);
    else if ((word = word_of_letter(argv, optopt)) != *said)
        complain_unknown(*said = word);
}

/* Returns the first row of an option. */
static size_t row_of(uint64_t bit)
{
    size_t i = 0;
    while (i < row_count && rows[i].bit != bit)
        i++;
    return i;
}

/* Fills the table for getopt_long; values from 256 on are rows. */
static void fill_long_options(struct option long_options[row_count + 1])
{
    size_t count = 0;
    for (size_t i = 0; i < row_count; i++)
        if (row_of(rows[i].bit) == i)
            long_options[count++] = (struct option){.name = rows[i].name,
                                                    .has_arg = rows[i].kind ? required_argument : no_argument,
                                                    .val = first_value + (int)i};
    long_options[count] = (struct option){0};
}

static bool take(const struct row *row, const char *word, struct options *options)
{
    options->given |= row->bit;
    return !row->kind || row->kind->take(row->kind, row->name, word, (char *)options + row->offset);
}

bool options_parse(int argc, char **argv, struct options *options)
{
    /* "-": getopt_long returns words one by one, so that options may follow them in every environment */
    static const char letters[] = "-:h";
    struct option long_options[row_count + 1];
    bool understood = true;
    const char *said = NULL;
    options->words = argv + (argc > 0);
    fill_long_options(long_options);
    opterr = 0;
    for (int found; (found = getopt_long(argc, argv, letters, long_options, NULL)) != -1;) {
        if (found == 1) {
            options->words[options->word_count++] = optarg; /* an already read argument had this slot */
        } else if (found == 'h') {
            options->given |= OPTION_HELP;
        } else if (found >= first_value) {
            understood = take(&rows[found - first_value], optarg, options) && understood;
        } else {
            complain_option(found, argv, &said);
            understood = false;
        }
    }
    while (optind < argc)
        options->words[options->word_count++] = argv[optind++];
    return understood;
}

const char *options_name(uint64_t bit)
{
    const size_t row = row_of(bit);
    return row < row_count ? rows[row].name : NULL;
}

bool options_go_with(const struct options *options, uint64_t bits, const char *wanted)
{
    for (uint64_t bit = 1; bit && bit <= bits; bit <<= 1)
        if (bit & bits & options->given)
            complain("--%s goes with %s", options_name(bit), wanted);
    return !(bits & options->given);
}

uint64_t options_of(unsigned command)
{
    uint64_t bits = 0;
    for (size_t i = 0; i < row_count; i++)
        bits |= rows[i].commands & command ? rows[i].bit : 0;
    return bits;
}

void options_help(struct text *text, unsigned command, uint64_t which)
{
    for (size_t i = 0; i < row_count; i++) {
        char left[40];
        if (!(rows[i].bit & which) || !(rows[i].commands & command))
            continue;
        snprintf(left, sizeof left, "--%s%s%s", rows[i].name, rows[i].value ? " " : "",
                 rows[i].value ? rows[i].value : "");
        text_plain(text, "  %-18s %s\n", left, rows[i].help);
    }
}
