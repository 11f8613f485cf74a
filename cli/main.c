/* SPDX-License-Identifier: GPL-3.0-or-later */
/* hankful: the table of commands, the help, and the only place that writes standard output. */
#include "commands.h"
#include "findings.h"
#include "hankful.h"
#include "layout.h"
#include "overview.h"
#include "workbook/answer.h"
#include "workbook/workbooks.h"

#include <errno.h>
#include <fcntl.h>
#include <locale.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>
#include <wchar.h>

static void print_cost_kinds(struct text *text)
{
    const char *meaning, *kind;
    text_plain(text, "\nKinds of cost in costs.csv:\n");
    for (size_t i = 0; (kind = hk_cost_kind(i, &meaning)); i++)
        text_plain(text, "  %-18s %s\n", kind, meaning);
    text_plain(text, "  Taxes follow local rules: ask a licensed adviser.\n");
}

static const struct command commands[] = {
    {
        .name = "new",
        .bit = COMMAND_NEW,
        .operands = "FOLDER",
        .least = 1,
        .most = 1,
        .summary = "a small complete project to edit, or files added to one",
        .explanation =
            "Makes FOLDER, where there is none yet, and writes a project into it: a hat in three sizes with one "
            "weighed swatch. Explains every file in its notes (lines that start with #). Never changes a file that "
            "is there already. With --pattern, writes the hat as a written pattern, pattern.txt; with --from, begins "
            "with a pattern of yours, and takes sizes, terms, yarns, tools and gauge from its text. With --add, adds "
            "explained files to the project in FOLDER, such as costs or offers,shops.",
        .examples = {"hankful new my-hat", "hankful new --pattern my-hat --from my-pattern.txt",
                     "hankful new --add costs,offers,shops my-hat"},
        .run = cmd_new,
    },
    {
        .name = "copy",
        .bit = COMMAND_COPY,
        .operands = "FROM TO",
        .least = 2,
        .most = 2,
        .summary = "a project's folder as a workbook, or a workbook as a folder",
        .explanation =
            "Writes the project in the folder FROM as a workbook, if TO ends in .xlsx, or the project in the workbook "
            "FROM, .xlsx or .ods, as the files of a new folder. Every cell and note is kept, in its row; other files "
            "and sheets are named and left out. Never changes a file that is there already.",
        .examples = {"hankful copy my-hat my-hat.xlsx", "hankful copy my-hat.ods my-hat"},
        .run = cmd_copy,
    },
    {
        .name = "check",
        .bit = COMMAND_CHECK,
        .operands = "[FOLDER]",
        .most = 1,
        .summary = "every error at once; the stitches of every row",
        .explanation =
            "Reads the project in FOLDER (the current folder if none is named), reports every error and warning in "
            "it as file:line:column, says what was read, and shows the rows of pattern.txt that state another count "
            "than they have. --parts shows the stitches of every part in every size, so that a pattern can be "
            "proofread against them; --rows those of every row. --lengths shows lengths with the counts that they "
            "became, the repeat, and their measure by the gauge. With --table, prints a table in place of all that: "
            "each row with its stitches in graded notation, and the width where a swatch has the gauge.",
        .examples = {"hankful check my-hat", "hankful check my-hat --size M --parts",
                     "hankful check my-hat --table --markdown"},
        .run = cmd_check,
    },
    {
        .name = "need",
        .bit = COMMAND_NEED,
        .operands = "[FOLDER]",
        .most = 1,
        .summary = "length and mass of yarn by size, with their range",
        .explanation =
            "Computes the yarn that every size takes, by role: the balls and the amount that are enough at the "
            "chance asked for, the likely amount and its range, and what narrows it most. With --evidence, shows each "
            "weighing and its effect. With --each, reads a file that names folders, one a line (none or -: standard "
            "input), and writes a line of JSON for each.",
        .examples = {"hankful need my-hat", "hankful need my-hat --size M --chance 99%",
                     "ls -d */ | hankful need --each"},
        .run = cmd_need,
    },
    {
        .name = "shop",
        .bit = COMMAND_SHOP,
        .operands = "[FOLDER]",
        .most = 1,
        .summary = "the balls to buy, by shop, with cost and chance",
        .explanation =
            "Finds the balls of each yarn to buy for every size, the cost with postage and discounts, and the chance "
            "that they are enough; for one size also the effect of a ball fewer and one more, and where to buy. Takes "
            "offers from offers.csv, postage and discounts from shops.csv; without them, the prices in yarns.csv.",
        .examples = {"hankful shop my-hat --size M --chance 90%", "hankful shop my-hat --together --list"},
        .run = cmd_shop,
    },
    {
        .name = "left",
        .bit = COMMAND_LEFT,
        .operands = "[FOLDER]",
        .most = 1,
        .summary = "what a piece in progress still takes, and if it lasts",
        .explanation =
            "Predicts the yarn of the work to come, for the making in hand, from what is worked and weighed: in "
            "progress.csv, or as --done, --used and --left state it. Shows the chance that the yarn in hand lasts, "
            "the row at which the ball in use ends, what to keep back for each part, where to stop before a part "
            "that must still be worked, and the balls to order, of the lot in hand. What was used is certain; only "
            "the rest is predicted. Grams are those of your scale.",
        .examples = {"hankful left my-hat",
                     "hankful left my-hat --size M --done \"brim, body 9 rows\" --used \"38 g\" --left \"12 g\""},
        .run = cmd_left,
    },
    {
        .name = "from",
        .bit = COMMAND_FROM,
        .operands = "[FOLDER]",
        .most = 1,
        .summary = "what the yarn in hand is enough for",
        .explanation =
            "Shows for which sizes the yarn in hand is enough, with the chance, and which yarn runs out first. In "
            "one size, also the most motifs, or the most rows of the piece that takes most of the yarn, with their "
            "length; --vary names another piece. Takes the yarn from --have, else the balls of the shop own in "
            "offers.csv.",
        .examples = {"hankful from my-hat --have \"1 ball\"",
                     "hankful from my-hat --have \"120 g\" --size M --vary body"},
        .run = cmd_from,
    },
    {
        .name = "compare",
        .bit = COMMAND_COMPARE,
        .operands = "[FOLDER]",
        .most = 1,
        .summary = "other yarns in the place of a role's yarn",
        .explanation =
            "Puts every candidate of a role (the rows of that role below the planned yarn in yarns.csv, or every row "
            "of a catalogue) in its place. Shows the length that the design takes in that yarn, mass, balls, cost, "
            "the yarn left over, the mass of the finished piece, and whether category and gauge fit, or with which "
            "hook. Compares in one size: the one asked for, else the middle one.",
        .examples = {"hankful compare my-hat", "hankful compare my-hat --role trim --by mass"},
        .run = cmd_compare,
    },
    {
        .name = "materials",
        .bit = COMMAND_MATERIALS,
        .operands = "[FOLDER]",
        .most = 1,
        .summary = "the materials section of a published pattern",
        .explanation =
            "Writes the materials of a published pattern for every size, in both systems of units: yarn and amounts, "
            "hooks or needles, notions, gauge, finished size, terms and abbreviations. Includes the spread of other "
            "hands than yours (reader) in the amounts, and rounds them up.",
        .examples = {"hankful materials my-hat", "hankful materials my-hat --html --terms UK"},
        .run = cmd_materials,
    },
    {
        .name = "pattern",
        .bit = COMMAND_PATTERN,
        .operands = "[FOLDER]",
        .most = 1,
        .summary = "the written pattern for one size or in other terms",
        .explanation =
            "Prints pattern.txt with the numbers of one size (--size), in US or UK terms (--terms), or both. Changes "
            "prose only where graded numbers and terms are certain; leaves unread rows as they are, and reports "
            "them. Reads its own output again: a row that comes to something else is an error.",
        .examples = {"hankful pattern my-hat --size M", "hankful pattern my-hat --terms UK --changes"},
        .run = cmd_pattern,
    },
    {
        .name = "quote",
        .bit = COMMAND_QUOTE,
        .operands = "[FOLDER]",
        .most = 1,
        .summary = "the price to ask, or the pay for an hour at a price",
        .explanation =
            "Computes the price of a commission, of a kit (--kit) or of a pattern (--pattern), from the yarn, the "
            "hours "
            "that the stitches take and the rows of costs.csv: the least price that pays fees, taxes and costs and "
            "leaves the pay for the work whole, with its range and the risk that it pays less an hour than the rate. "
            "With --price, computes the pay for an hour at that price.",
        .examples = {"hankful quote my-hat --size M", "hankful quote my-hat --sure 80%"},
        .run = cmd_quote,
        .print_more = print_cost_kinds,
    },
    {
        .name = "report",
        .bit = COMMAND_REPORT,
        .operands = "[FOLDER]",
        .most = 1,
        .summary = "a page of HTML with pictures, to look at and to print",
        .explanation =
            "Writes one page of HTML for the project: what to have and to buy, the range of every size, the chance of "
            "running short, where the yarn goes, and the stitches of every row. The page opens from the disk, without "
            "network or scripts.",
        .examples = {"hankful report my-hat >my-hat.html"},
        .run = cmd_report,
    },
    {
        .name = "convert",
        .bit = COMMAND_CONVERT,
        .operands = "WORDS...",
        .least = 1,
        .most = 64,
        .summary = "grams, metres, yards, tex and wraps, converted",
        .explanation =
            "Converts an amount of yarn into every unit of the trade. Takes as WORDS amounts and a description of "
            "the yarn: a label (\"50 g = 120 m\"), a yarn number (\"400 tex\"), wraps (\"12 wpi\"), a category "
            "(\"category 4\"), or the name of a yarn of the project.",
        .examples = {"hankful convert \"275 g\" \"50 g = 120 m\"", "hankful convert \"400 yd\" \"category 4\""},
        .run = cmd_convert,
    },
    {
        .name = "tables",
        .bit = COMMAND_TABLES,
        .operands = "[NAME]",
        .most = 1,
        .summary = "the shipped tables, with their sources",
        .explanation =
            "Lists the tables that Hankful works from; with NAME, prints the rows of that table with their sources.",
        .examples = {"hankful tables", "hankful tables stitches"},
        .run = cmd_tables,
    },
};
enum { command_count = sizeof commands / sizeof commands[0] };

static void print_help(struct text *text)
{
    text_plain(text, "Usage: hankful COMMAND [OPTION]... [FOLDER]\n\n"
                     "Computes the yarn that a crochet or knit design takes in every size, the balls\n"
                     "to buy, and the chance that they are enough. Without a command, in the folder of\n"
                     "a project, it shows an overview. FOLDER may be a workbook, .xlsx or .ods.\n\n"
                     "Commands:\n");
    for (size_t i = 0; i < command_count; i++) {
        char left[40];
        snprintf(left, sizeof left, "%s %s", commands[i].name, commands[i].operands);
        text_plain(text, "  %-18s %s\n", left, commands[i].summary);
    }
    text_plain(text, "  %-18s %s\n\nOptions of most commands:\n", "help [COMMAND]",
               "this help, or the help of a command");
    options_help(text, COMMAND_NEED, OPTION_SIZE | OPTION_CHANCE | OPTION_JSON | OPTION_ALWAYS);
    text_plain(text, "\n\"hankful help COMMAND\" lists all options of a command, with examples.\n"
                     "Start with: hankful new my-hat && hankful need my-hat\nThe manual: man hankful\n");
}

static void print_command_help(const struct command *command, struct text *text)
{
    text_plain(text, "Usage: hankful %s [OPTION]... %s\n\n", command->name, command->operands);
    text_paragraph(text, "%s", command->explanation);
    text_plain(text, "\nOptions:\n");
    options_help(text, command->bit, UINT64_MAX);
    if (command->print_more)
        command->print_more(text);
    text_plain(text, "\nFor example:\n");
    for (size_t i = 0; command->examples[i]; i++)
        text_plain(text, "  %s\n", command->examples[i]);
}

/* Suggests the nearest command on standard error. */
static const struct command *find_command(const char *name)
{
    const char *names[command_count];
    for (size_t i = 0; i < command_count; i++) {
        names[i] = commands[i].name;
        if (strcmp(name, names[i]) == 0)
            return &commands[i];
    }
    const size_t nearest = hk_nearest_name(name, names, command_count);
    if (access(name, F_OK) == 0 || workbook_named(name))
        complain("unknown command \"%s\"; write the command before a project: hankful check %s", name, name);
    else if (nearest == HK_NO_NAME)
        complain("unknown command \"%s\"; \"hankful --help\" lists them", name);
    else
        complain("unknown command \"%s\"; did you mean %s?", name, names[nearest]);
    return NULL;
}

static bool usage_fits(const struct command *command, const struct options *options)
{
    const size_t operands = options->word_count - 1;
    const uint64_t foreign = options->given & ~options_of(command->bit);
    for (uint64_t bit = 1; bit && bit <= foreign; bit <<= 1)
        if (foreign & bit)
            complain("%s takes no --%s; \"hankful help %s\" lists its options", command->name, options_name(bit),
                     command->name);
    if (operands < command->least)
        complain("%s needs %s; \"hankful help %s\" explains it", command->name, command->operands, command->name);
    else if (operands > command->most)
        complain("%s takes %s, not \"%s\" too", command->name, command->operands, options->words[1 + command->most]);
    return !foreign && operands >= command->least && operands <= command->most;
}

/* Handles "help", "--help", "help need" and "need --help". */
static enum outcome help(const struct options *options, FILE *out)
{
    struct text text = text_to(out, options->width);
    const size_t asked = options->word_count && strcmp(options->words[0], "help") == 0 ? 1 : 0;
    const struct command *command = NULL;
    if (options->word_count > asked && !(command = find_command(options->words[asked])))
        return MISUSED;
    if (command)
        print_command_help(command, &text);
    else
        print_help(&text);
    return text_outcome(&text);
}

/* Shows the overview of the project here; where there is none, the help. */
static enum outcome without_words(const struct options *options, FILE *out)
{
    bool failed = false;
    char *project = options->given & ~OPTION_ALWAYS ? NULL : overview_project(&failed);
    struct text text = text_to(stderr, options->width);
    enum outcome outcome = MISUSED;
    if (failed) {
        complain("out of memory");
        outcome = FAILED;
    } else if (project) {
        outcome = overview(project, options, out);
    } else {
        print_help(&text);
    }
    free(project);
    return outcome;
}

static enum outcome dispatch(const struct options *options, FILE *out)
{
    if (options->version) {
        struct text text = text_to(out, options->width);
        text_plain(&text, "hankful %s\n", hk_version());
        return text_outcome(&text);
    }
    if (options->help || (options->word_count && strcmp(options->words[0], "help") == 0))
        return help(options, out);
    if (!options->word_count)
        return without_words(options, out);
    const struct command *command = find_command(options->words[0]);
    if (!command || !usage_fits(command, options))
        return MISUSED;
    return options->xlsx ? answer_workbook(command, options, out) : command->run(options, out);
}

/* Writes the whole answer and checks that it was written. */
static enum outcome deliver(const char *answer, size_t size, enum outcome outcome)
{
    if (outcome == FAILED || !size)
        return outcome;
    const bool written = fwrite(answer, 1, size, stdout) == size;
    if (fclose(stdout) == 0 && written)
        return outcome;
    complain("cannot write the answer: %s", strerror(errno));
    return FAILED;
}

/* Prints all of the answer, or none. A command that failed has already printed the reason. */
static enum outcome answer_whole(const struct options *options)
{
    char *answer = NULL;
    size_t size = 0;
    FILE *out = open_memstream(&answer, &size);
    enum outcome outcome = out ? dispatch(options, out) : DONE;
    const bool kept = out && !ferror(out);
    if (!out || fclose(out) != 0 || !kept || !answer) {
        if (outcome != FAILED)
            complain("out of memory");
        outcome = FAILED;
    }
    outcome = deliver(answer, size, outcome);
    free(answer);
    return outcome;
}

/* Returns whether the command writes as it runs: it has many lines, or must know whether writing succeeded. */
static bool writes_itself(const struct options *options)
{
    const char *command = options->word_count ? options->words[0] : "";
    return options->given & OPTION_EACH || strcmp(command, "new") == 0;
}

/* Runs a command that writes to standard output itself and reports a failure to write. */
static enum outcome answer_itself(const struct options *options)
{
    const enum outcome outcome = dispatch(options, stdout);
    if (ferror(stdout) || fclose(stdout) == 0)
        return outcome;
    complain("cannot write the answer: %s", strerror(errno));
    return FAILED;
}

/*
 * Selects UTF-8 for the width of characters; numbers keep the C locale. When memory runs out, the C library may fall
 * back to ASCII without an error, at once or at the first character.
 */
static bool characters_known(void)
{
    static const char *const names[] = {"C.UTF-8", "UTF-8", "en_US.UTF-8"}; /* the second name is used by BSD systems */
    mbstate_t state = {0};
    wchar_t wide;
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        if (setlocale(LC_CTYPE, names[i]))
            return mbrtowc(&wide, "\u00a0", 2, &state) == 2;
    }
    return false;
}

/* Keeps a closed standard stream closed for all code: no file opened later gets its descriptor. */
static void hold_closed_streams(void)
{
    for (int stream = 0; stream <= STDERR_FILENO; stream++)
        if (fcntl(stream, F_GETFD) < 0)
            (void)!open("/dev/null", stream == STDIN_FILENO ? O_WRONLY : O_RDONLY);
}

int main(int argc, char **argv)
{
    struct options options = {0};
    hold_closed_streams();
    if (!characters_known()) {
        complain("out of memory, or there is no locale C.UTF-8 here");
        return FAILED;
    }
    hk_gsl_errors_off();
    if (!options_parse(argc, argv, &options))
        return MISUSED;
    return writes_itself(&options) ? answer_itself(&options) : answer_whole(&options);
}
