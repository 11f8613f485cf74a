/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "options.h"

#include "added.h"
#include "hankful.h"
#include "safe.h"

#include <getopt.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

/* An option of several commands has a row for each text; the first gives its name and value. */
struct row {
    uint64_t bit;
    const char *name, *value;
    unsigned commands; /* COMMAND_... */
    const char *help;
};

static const struct row rows[] = {
    {OPTION_SIZE, "size", "S", COMMAND_CHECK | COMMAND_NEED | COMMAND_SHOP | COMMAND_MATERIALS | COMMAND_PATTERN | COMMAND_QUOTE,
     "one size, in place of all"},
    {OPTION_SIZE, "size", "S", COMMAND_COMPARE,
     "the size to compare in, in place of the middle one"},
    {OPTION_CHANCE, "chance", "P", COMMAND_CHECK | COMMAND_NEED | COMMAND_SHOP | COMMAND_COMPARE | COMMAND_MATERIALS | COMMAND_QUOTE,
     "the chance that the yarn is enough, such as 95% or 0.95"},
    {OPTION_JSON, "json", NULL, COMMAND_CHECK | COMMAND_NEED | COMMAND_SHOP | COMMAND_COMPARE | COMMAND_MATERIALS | COMMAND_PATTERN | COMMAND_QUOTE | COMMAND_CONVERT | COMMAND_TABLES,
     "the answer as JSON, for other programs"},
    {OPTION_EACH, "each", NULL, COMMAND_NEED,
     "a line of JSON for each folder of a list"},
    {OPTION_EVIDENCE, "evidence", NULL, COMMAND_NEED,
     "every weighing too, with its expected value and effect"},
    {OPTION_TOGETHER, "together", NULL, COMMAND_SHOP,
     "one basket for all sizes, in place of one for each"},
    {OPTION_TIMES, "times", "N", COMMAND_SHOP,
     "the number of times that each size is made; 1 if not stated"},
    {OPTION_LIST, "list", NULL, COMMAND_SHOP,
     "a shopping list to print or paste"},
    {OPTION_SECONDS, "seconds", "N", COMMAND_SHOP | COMMAND_QUOTE,
     "the time limit of the search for a basket; 10 if not stated"},
    {OPTION_PROJECT, "project", "FOLDER", COMMAND_CONVERT,
     "the project whose yarns may be named"},
    {OPTION_ROLE, "role", "R", COMMAND_COMPARE,
     "the role that other yarns are compared for"},
    {OPTION_YARNS, "yarns", "FILE", COMMAND_COMPARE,
     "a catalogue of yarns, in place of those in yarns.csv"},
    {OPTION_BY, "by", "ORDER", COMMAND_COMPARE,
     "the order of the yarns: cost, length, mass or balls"},
    {OPTION_HELD_TOGETHER, "held-together", NULL, COMMAND_COMPARE,
     "pairs of yarns held together too"},
    {OPTION_MOST, "most", "N", COMMAND_COMPARE,
     "the most yarns to show; 20 if not stated"},
    {OPTION_ROUND, "round", "N", COMMAND_MATERIALS,
     "the step of rounding: 1, 5, 10, 25, 50 or 100; 10 if not stated"},
    {OPTION_TERMS, "terms", "T", COMMAND_MATERIALS | COMMAND_PATTERN,
     "US or UK terms, in place of the project's"},
    {OPTION_PLAIN, "plain", NULL, COMMAND_MATERIALS,
     "amounts without the chances that they are enough"},
    {OPTION_MARKDOWN, "markdown", NULL, COMMAND_CHECK,
     "the table of --table as Markdown"},
    {OPTION_MARKDOWN, "markdown", NULL, COMMAND_MATERIALS,
     "the materials as Markdown"},
    {OPTION_MARKDOWN, "markdown", NULL, COMMAND_PATTERN,
     "the pattern as Markdown"},
    {OPTION_HTML, "html", NULL, COMMAND_MATERIALS,
     "the materials as a section of HTML"},
    {OPTION_CSV, "csv", NULL, COMMAND_CHECK,
     "the table of --table as CSV"},
    {OPTION_CSV, "csv", NULL, COMMAND_MATERIALS,
     "the materials as CSV, one size a column"},
    {OPTION_KIT, "kit", NULL, COMMAND_QUOTE,
     "a kit, in place of a commission"},
    {OPTION_PATTERN, "pattern", NULL, COMMAND_NEW,
     "a project with a written pattern"},
    {OPTION_PATTERN, "pattern", NULL, COMMAND_QUOTE,
     "the pattern alone, in place of a commission"},
    {OPTION_PRICE, "price", "P", COMMAND_QUOTE,
     "the price to answer for, in place of the price to ask"},
    {OPTION_ENDING, "ending", "E", COMMAND_QUOTE,
     "the ending of the price to ask: .00, .50, .95, 9.95"},
    {OPTION_DEPOSIT, "deposit", "D", COMMAND_QUOTE,
     "the share to pay with the order; 50% if not stated"},
    {OPTION_USED, "used", NULL, COMMAND_QUOTE,
     "yarn by the amount used, in place of whole balls"},
    {OPTION_LETTER, "letter", NULL, COMMAND_QUOTE,
     "a quote to send to a client"},
    {OPTION_BATCH, "batch", "N", COMMAND_QUOTE,
     "the number of kits made at a time; 10 if not stated"},
    {OPTION_WASTE, "waste", "W", COMMAND_QUOTE,
     "the share of yarn that winding kits loses, such as 2%"},
    {OPTION_SPARE, "spare", "S", COMMAND_QUOTE,
     "the share bought beyond the batch, such as 5%"},
    {OPTION_CODE, "code", "C", COMMAND_QUOTE,
     "the discount of a code on a kit or pattern, such as 20%"},
    {OPTION_ROWS, "rows", NULL, COMMAND_CHECK,
     "every row of shaped parts, in place of a summary"},
    {OPTION_PROSE, "prose", NULL, COMMAND_CHECK,
     "the lines of pattern.txt that are not read"},
    {OPTION_TABLE, "table", NULL, COMMAND_CHECK,
     "a table to print, of the stitches in graded notation"},
    {OPTION_CHANGES, "changes", NULL, COMMAND_PATTERN,
     "the words and numbers that change, in place of the pattern"},
    {OPTION_FROM, "from", "FILE", COMMAND_NEW,
     "a written pattern to begin with"},
    {OPTION_ADD, "add", "FILES", COMMAND_NEW,
     "explained files to add: costs, offers, shops, progress, grade, swatches"},
    {OPTION_TABLES, "tables", "DIR", COMMAND_ALL,
     "the folder of the shipped tables"},
    {OPTION_WIDTH, "width", "N", COMMAND_ALL,
     "the columns of text, in place of the terminal's"},
    {OPTION_HELP, "help", NULL, COMMAND_ALL,
     "this help; also -h"},
    {OPTION_VERSION, "version", NULL, COMMAND_ALL,
     "the release"},
};
enum { row_count = sizeof rows / sizeof rows[0], width_least = 40, width_most = 1000, first_value = 256 };

static const double seconds_least = 0.01, seconds_most = 86400;

void complain(const char *format, ...)
{
    char words[2000];
    va_list list;
    va_start(list, format);
    vsnprintf(words, sizeof words, format, list);
    va_end(list);
    safe_words(words);
    fprintf(stderr, "hankful: %s\n", words);
}

/*
 * Digits with one decimal mark, point or comma, to the very end or up to `after`; no sign, no exponent, whatever the
 * locale. False where it is anything else.
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

static bool take_chance(const char *word, struct options *options)
{
    double chance;
    if (scan_number(word, "%", &chance) || scan_number(word, " %", &chance))
        chance /= 100;
    else if (!scan_number(word, "", &chance))
        chance = 0;
    if (!(chance > 0 && chance < 1)) {
        complain("--chance: \"%s\" is no chance between 0 and 1; write 95%% or 0.95", word);
        return false;
    }
    if (chance < 0.5)
        complain("--chance: with %s%% the yarn is less than is likely to be used; it is the chance that the yarn is enough",
                 hk_number_text(100 * chance, 6).text);
    options->chance = chance;
    return true;
}

static bool take_width(const char *word, struct options *options)
{
    double width;
    if (strpbrk(word, ".,") || !scan_number(word, "", &width) || width < width_least || width > width_most) {
        complain("--width: \"%s\" is no width; write a whole number from %d to %d", word, width_least, width_most);
        return false;
    }
    options->width = (size_t)width;
    return true;
}

/* One of the words in any letter case, NULL at their end; its index. */
static bool take_word(const char *option, const char *word, const char *const *words, const char *known, size_t *index)
{
    for (size_t i = 0; words[i]; i++) {
        if (strcasecmp(word, words[i]) == 0) {
            *index = i;
            return true;
        }
    }
    complain("--%s: \"%s\" is no choice here; write %s", option, word, known);
    return false;
}

static bool take_by(const char *word, struct options *options)
{
    static const char *const words[] = {"cost", "length", "mass", "balls", NULL};
    static const enum hk_compare_order orders[] = {HK_COMPARE_ORDER_COST, HK_COMPARE_ORDER_LENGTH, HK_COMPARE_ORDER_MASS,
                                                   HK_COMPARE_ORDER_BALLS};
    size_t index;
    if (!take_word("by", word, words, "cost, length, mass or balls", &index))
        return false;
    options->by = orders[index];
    return true;
}

static bool take_terms(const char *word, struct options *options)
{
    static const char *const words[] = {"US", "UK", NULL};
    size_t index;
    if (!take_word("terms", word, words, "US or UK", &index))
        return false;
    options->terms = index == 0 ? HK_TERMS_WANTED_US : HK_TERMS_WANTED_UK;
    return true;
}

static bool take_round(const char *word, struct options *options)
{
    static const char *const words[] = {"1", "5", "10", "25", "50", "100", NULL};
    static const double steps[] = {1, 5, 10, 25, 50, 100};
    size_t index;
    if (!take_word("round", word, words, "1, 5, 10, 25, 50 or 100", &index))
        return false;
    options->round = steps[index];
    return true;
}

static bool take_most(const char *word, struct options *options)
{
    double most;
    if (strpbrk(word, ".,") || !scan_number(word, "", &most) || most < 1 || most > 1e9) {
        complain("--most: \"%s\" is no number of yarns; write a whole number from 1", word);
        return false;
    }
    options->most = (size_t)most;
    return true;
}

/* "50%", or a bare number below 1 like 0.5, to the ten-thousandth of a percent, up to `most`. */
static bool take_percent(const char *option, const char *word, double most, int64_t *millionths)
{
    double ratio = -1;
    if (scan_number(word, "%", &ratio) || scan_number(word, " %", &ratio))
        ratio /= 100;
    else if (!scan_number(word, "", &ratio) || ratio > 1)
        ratio = -1;
    else if (ratio == 1 && most >= 1) {
        complain("--%s: \"%s\" can be read in two ways; write 1%% or 100%%", option, word);
        return false;
    }
    if (!(ratio >= 0 && ratio <= most)) {
        complain("--%s: \"%s\" is no percentage from 0%% to %s%%; write it like 5%%", option, word,
                 hk_number_text(100 * most, 6).text);
        return false;
    }
    *millionths = (int64_t)(ratio * 1e6 + 0.5);
    return true;
}

static bool take_batch(const char *word, struct options *options)
{
    double batch;
    if (strpbrk(word, ".,") || !scan_number(word, "", &batch) || batch < 1 || batch > 100000) {
        complain("--batch: \"%s\" is no number of kits; write a whole number from 1 to 100000", word);
        return false;
    }
    options->batch = (int64_t)batch;
    return true;
}

static bool take_times(const char *word, struct options *options)
{
    double times;
    if (strpbrk(word, ".,") || !scan_number(word, "", &times) || times < 1 || times > HK_SHOP_TIMES_MOST) {
        complain("--times: \"%s\" is no number of makings; write a whole number from 1 to %d", word, HK_SHOP_TIMES_MOST);
        return false;
    }
    options->times = (int64_t)times;
    return true;
}

static bool take_seconds(const char *word, struct options *options)
{
    if (!scan_number(word, "", &options->seconds) || options->seconds < seconds_least || options->seconds > seconds_most) {
        complain("--seconds: \"%s\" is no time to search; write seconds from 0.01 to 86400", word);
        return false;
    }
    return true;
}

static bool take(uint64_t bit, char *value, struct options *options)
{
    options->given |= bit;
    switch (bit) {
    case OPTION_SIZE:
        options->size = value;
        return true;
    case OPTION_CHANCE:
        return take_chance(value, options);
    case OPTION_JSON:
        options->json = true;
        return true;
    case OPTION_PROJECT:
        options->project = value;
        return true;
    case OPTION_TABLES:
        options->tables = value;
        return true;
    case OPTION_WIDTH:
        return take_width(value, options);
    case OPTION_ROLE:
        options->role = value;
        return true;
    case OPTION_FROM:
        options->from = value;
        return true;
    case OPTION_ADD:
        return added_parse(value, &options->add);
    case OPTION_YARNS:
        options->yarns = value;
        return true;
    case OPTION_BY:
        return take_by(value, options);
    case OPTION_MOST:
        return take_most(value, options);
    case OPTION_ROUND:
        return take_round(value, options);
    case OPTION_TERMS:
        return take_terms(value, options);
    case OPTION_EACH:
        options->each = true;
        return true;
    case OPTION_TOGETHER:
        options->together = true;
        return true;
    case OPTION_TIMES:
        return take_times(value, options);
    case OPTION_LIST:
        options->list = true;
        return true;
    case OPTION_SECONDS:
        return take_seconds(value, options);
    case OPTION_PRICE:
        options->price = value;
        return true;
    case OPTION_ENDING:
        options->ending = value;
        return true;
    case OPTION_BATCH:
        return take_batch(value, options);
    case OPTION_DEPOSIT:
        return take_percent("deposit", value, 1, &options->deposit_millionths);
    case OPTION_WASTE:
        return take_percent("waste", value, 1, &options->waste_millionths);
    case OPTION_SPARE:
        return take_percent("spare", value, 1, &options->spare_millionths);
    case OPTION_CODE:
        return take_percent("code", value, 0.9999, &options->code_millionths);
    case OPTION_EVIDENCE:
    case OPTION_PLAIN:
    case OPTION_HELD_TOGETHER:
    case OPTION_MARKDOWN:
    case OPTION_HTML:
    case OPTION_CSV:
    case OPTION_KIT:
    case OPTION_PATTERN:
    case OPTION_USED:
    case OPTION_LETTER:
    case OPTION_ROWS:
    case OPTION_PROSE:
    case OPTION_TABLE:
    case OPTION_CHANGES:
    case OPTION_HELP:
    case OPTION_VERSION:
        return true;
    }
    return false;
}

/* "--chanse=90%": the nearest option, without what stands behind the sign. */
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

/* "-size": getopt reads it letter by letter, and stays at the word until its last. */
static const char *word_of_letter(char **argv, int letter)
{
    const char *word = argv[optind];
    if (word && word[0] == '-' && word[1] != '-' && strchr(word, letter))
        return word;
    return optind > 0 ? argv[optind - 1] : "";
}

/* What getopt_long found wrong: it has just passed that argument. `said`: the word with letters that was told last. */
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

/* The first row of an option. */
static size_t row_of(uint64_t bit)
{
    size_t i = 0;
    while (i < row_count && rows[i].bit != bit)
        i++;
    return i;
}

/* What getopt_long goes by; values from 256 on are rows. */
static void fill_long_options(struct option long_options[row_count + 1])
{
    size_t count = 0;
    for (size_t i = 0; i < row_count; i++)
        if (row_of(rows[i].bit) == i)
            long_options[count++] = (struct option){.name = rows[i].name,
                                                    .has_arg = rows[i].value ? required_argument : no_argument,
                                                    .val = first_value + (int)i};
    long_options[count] = (struct option){0};
}

bool options_parse(int argc, char **argv, struct options *options)
{
    /* "-": words come one by one, so that options may stand behind them in every environment */
    static const char letters[] = "-:h";
    struct option long_options[row_count + 1];
    bool understood = true;
    const char *said = NULL;
    options->words = argv + (argc > 0);
    fill_long_options(long_options);
    opterr = 0;
    for (int found; (found = getopt_long(argc, argv, letters, long_options, NULL)) != -1;) {
        if (found == 1) {
            options->words[options->word_count++] = optarg; /* where one stood that has been read */
        } else if (found == 'h') {
            options->given |= OPTION_HELP;
        } else if (found >= first_value) {
            understood = take(rows[found - first_value].bit, optarg, options) && understood;
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
