/* SPDX-License-Identifier: GPL-3.0-or-later */
/* hankful materials: the block of a published pattern, as text, Markdown, a piece of HTML, CSV or JSON. */
#include "findings.h"
#include "json.h"
#include "number.h"
#include "work.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ---- The block, whatever it is written as ---- */

/* How a format writes; `out` is in memory. */
struct writer {
    const struct hk_materials *materials;
    FILE *out;
    struct text *text; /* of the text format */
    bool open;         /* a list is */
    bool lost;
    void (*title)(struct writer *writer, const char *words);
    void (*heading)(struct writer *writer, const char *words);
    void (*item)(struct writer *writer, const char *words);
    void (*close)(struct writer *writer);
};

/* Takes over `words`, of text_format. */
static void item(struct writer *writer, char *words)
{
    writer->lost |= !words;
    if (words)
        writer->item(writer, words);
    free(words);
}

static bool same_units(const struct hk_printed *amount)
{
    return !*amount->metric_unit;
}

/* "480 (520, 570) m / 530 (570, 630) yd". */
static char *amount_words(const struct hk_printed *amount)
{
    if (same_units(amount))
        return text_format("%s", amount->metric_text);
    return text_format("%s / %s", amount->metric_text, amount->customary_text);
}

static void write_colour(struct writer *writer, const struct hk_materials_colour *colour)
{
    char *length = amount_words(&colour->length), *mass = amount_words(&colour->mass);
    const bool one = strcmp(colour->balls_text, "1") == 0;
    item(writer, length && mass ? text_format("%s%s%s%s: %s; %s; %s %s", *colour->colour ? colour->colour : "",
                                              *colour->colour ? " (" : "", colour->roles, *colour->colour ? ")" : "", length,
                                              mass, colour->balls_text, one ? "ball" : "balls")
                                : NULL);
    free(length);
    free(mass);
}

static void write_yarns(struct writer *writer)
{
    const struct hk_materials *materials = writer->materials;
    writer->heading(writer, "Yarn");
    for (size_t i = 0; i < materials->yarn_count; i++) {
        const struct hk_materials_yarn *yarn = &materials->yarns[i];
        item(writer, text_format("%s (%s%s%s%s%s), %s a ball", yarn->yarn, *yarn->categories ? "category " : "",
                                 yarn->categories, *yarn->categories && *yarn->fibre ? "; " : "", yarn->fibre,
                                 *yarn->categories || *yarn->fibre ? "" : "no category", yarn->put_up_text));
        for (size_t k = 0; k < yarn->colour_count; k++)
            write_colour(writer, &yarn->colours[k]);
    }
    if (materials->margin >= 0)
        item(writer, text_format("Amounts are %s above what is likely, rounded up.", number_asked(materials->margin).text));
    else
        item(writer, text_format("Amounts are enough for %s of makers who meet the gauge, rounded up.",
                                 number_asked(materials->chance).text));
}

static void write_tools(struct writer *writer)
{
    const struct hk_materials *materials = writer->materials;
    bool needles = true, hooks = true;
    for (size_t i = 0; i < materials->tool_count; i++) {
        needles &= materials->tools[i].needle;
        hooks &= !materials->tools[i].needle;
    }
    writer->heading(writer, hooks ? "Hooks" : needles ? "Needles" : "Hooks and needles");
    for (size_t i = 0; i < materials->tool_count; i++)
        item(writer, text_format("%s", materials->tools[i].text));
    item(writer, text_format("Or the size that meets the gauge."));
}

static void write_measures(struct writer *writer)
{
    const struct hk_materials *materials = writer->materials;
    if (!materials->measure_count)
        return;
    writer->heading(writer, "Finished size");
    for (size_t i = 0; i < materials->measure_count; i++) {
        char *amount = amount_words(&materials->measures[i].amount);
        item(writer, amount ? text_format("%s: %s", materials->measures[i].name, amount) : NULL);
        free(amount);
    }
}

static void write_rest(struct writer *writer)
{
    const struct hk_materials *materials = writer->materials;
    if (materials->notion_count)
        writer->heading(writer, "Notions");
    for (size_t i = 0; i < materials->notion_count; i++)
        item(writer, text_format("%s", materials->notions[i]));
    if (materials->gauge_count)
        writer->heading(writer, "Gauge");
    for (size_t i = 0; i < materials->gauge_count; i++)
        item(writer, text_format("%s", materials->gauges[i].text));
    write_measures(writer);
}

static void write_words(struct writer *writer)
{
    const struct hk_materials *materials = writer->materials;
    writer->heading(writer, materials->uk ? "Abbreviations (UK terms)" : "Abbreviations (US terms)");
    for (size_t i = 0; i < materials->word_count; i++)
        item(writer, text_format("%s: %s", materials->words[i].word, materials->words[i].meaning));
}

static enum outcome write_block(struct writer *writer)
{
    const struct hk_materials *materials = writer->materials;
    writer->title(writer, materials->project);
    writer->heading(writer, "Sizes");
    item(writer, text_format("%s", materials->sizes_text));
    write_yarns(writer);
    write_tools(writer);
    write_rest(writer);
    write_words(writer);
    writer->close(writer);
    if (!writer->lost)
        return DONE;
    complain("out of memory");
    return FAILED;
}

/* ---- Text ---- */

static void text_title(struct writer *writer, const char *words)
{
    text_heading(writer->text, "%s: materials", words);
}

static void text_part(struct writer *writer, const char *words)
{
    text_gap(writer->text);
    text_heading(writer->text, "%s", words);
}

static void text_line(struct writer *writer, const char *words)
{
    text_item(writer->text, "%s", words);
}

static void text_close(struct writer *writer)
{
    (void)writer;
}

/* ---- Markdown: CommonMark, every mark that might mean something behind a backslash ---- */

static void markdown_words(struct writer *writer, const char *words)
{
    for (; *words; words++) {
        if (strchr("\\`*_[]<>|#&~", *words))
            fputc('\\', writer->out);
        fputc(*words, writer->out);
    }
}

static void markdown_title(struct writer *writer, const char *words)
{
    fputs("## ", writer->out);
    markdown_words(writer, words);
    fputs(": materials\n", writer->out);
}

static void markdown_heading(struct writer *writer, const char *words)
{
    fputs("\n### ", writer->out);
    markdown_words(writer, words);
    fputs("\n\n", writer->out);
}

static void markdown_item(struct writer *writer, const char *words)
{
    fputs("- ", writer->out);
    markdown_words(writer, words);
    fputc('\n', writer->out);
}

/* ---- HTML: a section to be put into a page, well-formed as XML too ---- */

static void html_words(struct writer *writer, const char *words)
{
    for (; *words; words++) {
        switch (*words) {
        case '&':
            fputs("&amp;", writer->out);
            break;
        case '<':
            fputs("&lt;", writer->out);
            break;
        case '>':
            fputs("&gt;", writer->out);
            break;
        case '"':
            fputs("&quot;", writer->out);
            break;
        default:
            fputc((unsigned char)*words < ' ' ? ' ' : *words, writer->out);
        }
    }
}

static void html_list_end(struct writer *writer)
{
    if (writer->open)
        fputs("</ul>\n", writer->out);
    writer->open = false;
}

static void html_title(struct writer *writer, const char *words)
{
    fputs("<section class=\"materials\">\n<h2>", writer->out);
    html_words(writer, words);
    fputs(": materials</h2>\n", writer->out);
}

static void html_heading(struct writer *writer, const char *words)
{
    html_list_end(writer);
    fputs("<h3>", writer->out);
    html_words(writer, words);
    fputs("</h3>\n<ul>\n", writer->out);
    writer->open = true;
}

static void html_item(struct writer *writer, const char *words)
{
    fputs("<li>", writer->out);
    html_words(writer, words);
    fputs("</li>\n", writer->out);
}

static void html_close(struct writer *writer)
{
    html_list_end(writer);
    fputs("</section>\n", writer->out);
}

/* ---- CSV: numbers, one size a column ---- */

static void csv_cell(FILE *out, const char *words)
{
    if (!strpbrk(words, ",\"\r\n")) {
        fputs(words, out);
        return;
    }
    fputc('"', out);
    for (; *words; words++) {
        if (*words == '"')
            fputc('"', out);
        fputc(*words, out);
    }
    fputc('"', out);
}

/* What stands before the sizes. */
static void csv_start(FILE *out, const char *section, const char *name, const char *what, const char *unit,
                      const char *words)
{
    const char *const cells[] = {section, name, what, unit, words};
    for (size_t i = 0; i < sizeof cells / sizeof cells[0]; i++) {
        if (i)
            fputc(',', out);
        csv_cell(out, cells[i]);
    }
}

static void csv_words(const struct hk_materials *materials, FILE *out, const char *section, const char *name,
                      const char *what, const char *words)
{
    csv_start(out, section, name, what, "", words);
    for (size_t i = 0; i < materials->size_count; i++)
        fputc(',', out);
    fputc('\n', out);
}

static void csv_numbers(const struct hk_materials *materials, FILE *out, const char *section, const char *name,
                        const char *what, const char *unit, const double *values)
{
    csv_start(out, section, name, what, unit, "");
    for (size_t i = 0; i < materials->size_count; i++) {
        fputc(',', out);
        if (!isnan(values[i]))
            fprintf(out, "%.15g", values[i]);
    }
    fputc('\n', out);
}

static void csv_same(const struct hk_materials *materials, FILE *out, const char *section, const char *name,
                     const char *what, const char *unit, double value)
{
    csv_start(out, section, name, what, unit, "");
    for (size_t i = 0; i < materials->size_count; i++)
        fprintf(out, ",%.15g", value);
    fputc('\n', out);
}

static void csv_amount(const struct hk_materials *materials, FILE *out, const char *section, const char *name,
                       const char *what, const struct hk_printed *amount)
{
    csv_numbers(materials, out, section, name, what, amount->metric_unit, amount->metric);
    if (!same_units(amount))
        csv_numbers(materials, out, section, name, what, amount->customary_unit, amount->customary);
}

static void csv_colour(const struct hk_materials *materials, FILE *out, const struct hk_materials_yarn *yarn,
                       const struct hk_materials_colour *colour, const char *name)
{
    csv_words(materials, out, "yarn", name, "roles", colour->roles);
    csv_words(materials, out, "yarn", name, "category", yarn->categories);
    csv_words(materials, out, "yarn", name, "fibre", yarn->fibre);
    csv_same(materials, out, "yarn", name, "put-up", "g", yarn->put_up_g);
    csv_same(materials, out, "yarn", name, "put-up", "m", yarn->put_up_m);
    csv_amount(materials, out, "yarn", name, "length", &colour->length);
    csv_amount(materials, out, "yarn", name, "mass", &colour->mass);
    csv_start(out, "yarn", name, "balls", "", "");
    for (size_t i = 0; i < materials->size_count; i++)
        fprintf(out, ",%lld", (long long)colour->balls[i]);
    fputc('\n', out);
}

static enum outcome csv_yarns(const struct hk_materials *materials, FILE *out)
{
    for (size_t i = 0; i < materials->yarn_count; i++) {
        const struct hk_materials_yarn *yarn = &materials->yarns[i];
        for (size_t k = 0; k < yarn->colour_count; k++) {
            const struct hk_materials_colour *colour = &yarn->colours[k];
            char *name = text_format("%s%s%s", yarn->yarn, *colour->colour ? ", " : "", colour->colour);
            if (!name) {
                complain("out of memory");
                return FAILED;
            }
            csv_colour(materials, out, yarn, colour, name);
            free(name);
        }
    }
    return DONE;
}

static void csv_rest(const struct hk_materials *materials, FILE *out)
{
    for (size_t i = 0; i < materials->tool_count; i++) {
        const struct hk_materials_tool *tool = &materials->tools[i];
        csv_same(materials, out, tool->needle ? "needle" : "hook", tool->label, "diameter", "mm", tool->tool_mm);
    }
    for (size_t i = 0; i < materials->notion_count; i++)
        csv_words(materials, out, "notion", "", "", materials->notions[i]);
    for (size_t i = 0; i < materials->gauge_count; i++) {
        const struct hk_materials_gauge *gauge = &materials->gauges[i];
        csv_words(materials, out, "gauge", gauge->fabric, "care", gauge->care);
        csv_same(materials, out, "gauge", gauge->fabric, "tool", "mm", gauge->tool_mm);
        csv_same(materials, out, "gauge", gauge->fabric, "stitches", "10 cm", gauge->stitches);
        if (gauge->rows > 0)
            csv_same(materials, out, "gauge", gauge->fabric, "rows", "10 cm", gauge->rows);
    }
    for (size_t i = 0; i < materials->measure_count; i++)
        csv_amount(materials, out, "finished size", materials->measures[i].name, "", &materials->measures[i].amount);
    for (size_t i = 0; i < materials->word_count; i++)
        csv_words(materials, out, "abbreviation", materials->words[i].word, materials->uk ? "UK" : "US",
                  materials->words[i].meaning);
}

static enum outcome print_csv(const struct hk_materials *materials, FILE *out)
{
    csv_start(out, "section", "name", "what", "unit", "words");
    for (size_t i = 0; i < materials->size_count; i++) {
        fputc(',', out);
        csv_cell(out, materials->sizes[i]);
    }
    fputc('\n', out);
    const enum outcome outcome = csv_yarns(materials, out);
    csv_rest(materials, out);
    return outcome;
}

/* ---- JSON ---- */

static json_t *numbers_json(struct json *json, const double *values, size_t count)
{
    json_t *array = json_make_array(json);
    for (size_t i = 0; i < count; i++)
        json_add(json, array, isnan(values[i]) ? json_null() : json_real(values[i]));
    return array;
}

/* {"m":[...],"yd":[...]}; of a count only {"count":[...]}. */
static json_t *amount_json(struct json *json, const struct hk_printed *amount, size_t count)
{
    json_t *object = json_make_object(json);
    if (same_units(amount)) {
        json_put(json, object, "count", numbers_json(json, amount->metric, count));
        return object;
    }
    json_put(json, object, amount->metric_unit, numbers_json(json, amount->metric, count));
    json_put(json, object, amount->customary_unit, numbers_json(json, amount->customary, count));
    return object;
}

static json_t *colour_json(struct json *json, const struct hk_materials_colour *colour, size_t count)
{
    json_t *object = json_make_object(json), *balls = json_make_array(json);
    for (size_t i = 0; i < count; i++)
        json_add(json, balls, json_integer(colour->balls[i]));
    json_put_text(json, object, "colour", colour->colour);
    json_put_text(json, object, "roles", colour->roles);
    json_put(json, object, "length", amount_json(json, &colour->length, count));
    json_put(json, object, "mass", amount_json(json, &colour->mass, count));
    json_put(json, object, "balls", balls);
    return object;
}

static json_t *yarns_json(struct json *json, const struct hk_materials *materials)
{
    json_t *yarns = json_make_array(json);
    for (size_t i = 0; i < materials->yarn_count; i++) {
        const struct hk_materials_yarn *yarn = &materials->yarns[i];
        json_t *object = json_make_object(json), *colours = json_make_array(json);
        for (size_t k = 0; k < yarn->colour_count; k++)
            json_add(json, colours, colour_json(json, &yarn->colours[k], materials->size_count));
        json_put_text(json, object, "yarn", yarn->yarn);
        json_put_text(json, object, "fibre", yarn->fibre);
        json_put_text(json, object, "categories", yarn->categories);
        json_put_real(json, object, "put_up_g", yarn->put_up_g);
        json_put_real(json, object, "put_up_m", yarn->put_up_m);
        json_put(json, object, "colours", colours);
        json_add(json, yarns, object);
    }
    return yarns;
}

static json_t *tools_json(struct json *json, const struct hk_materials *materials)
{
    json_t *tools = json_make_array(json);
    for (size_t i = 0; i < materials->tool_count; i++) {
        json_t *object = json_make_object(json);
        json_put_real(json, object, "tool_mm", materials->tools[i].tool_mm);
        json_put_text(json, object, "label", materials->tools[i].label);
        json_put_bool(json, object, "needle", materials->tools[i].needle);
        json_add(json, tools, object);
    }
    return tools;
}

static json_t *gauges_json(struct json *json, const struct hk_materials *materials)
{
    json_t *gauges = json_make_array(json);
    for (size_t i = 0; i < materials->gauge_count; i++) {
        const struct hk_materials_gauge *gauge = &materials->gauges[i];
        json_t *object = json_make_object(json);
        json_put_text(json, object, "fabric", gauge->fabric);
        json_put_text(json, object, "swatch", gauge->swatch);
        json_put_text(json, object, "care", gauge->care);
        json_put_real(json, object, "tool_mm", gauge->tool_mm);
        json_put_real(json, object, "stitches", gauge->stitches);
        json_put_real(json, object, "rows", gauge->rows);
        json_add(json, gauges, object);
    }
    return gauges;
}

static json_t *named_json(struct json *json, const struct hk_materials *materials)
{
    json_t *measures = json_make_array(json);
    for (size_t i = 0; i < materials->measure_count; i++) {
        json_t *object = json_make_object(json);
        json_put_text(json, object, "name", materials->measures[i].name);
        json_put(json, object, "amount", amount_json(json, &materials->measures[i].amount, materials->size_count));
        json_add(json, measures, object);
    }
    return measures;
}

static json_t *words_json(struct json *json, const struct hk_materials *materials)
{
    json_t *words = json_make_array(json);
    for (size_t i = 0; i < materials->word_count; i++) {
        json_t *object = json_make_object(json);
        json_put_text(json, object, "word", materials->words[i].word);
        json_put_text(json, object, "meaning", materials->words[i].meaning);
        json_add(json, words, object);
    }
    return words;
}

static json_t *texts_json(struct json *json, const char *const *texts, size_t count)
{
    json_t *array = json_make_array(json);
    for (size_t i = 0; i < count; i++)
        json_add(json, array, json_text(texts[i]));
    return array;
}

static enum outcome print_json(const struct work *work, const struct hk_materials *materials, FILE *out)
{
    struct json json = {0};
    json_t *answer = json_make_answer(&json);
    json_put_text(&json, answer, "project", materials->project);
    json_put_real(&json, answer, "chance", materials->chance);
    json_put(&json, answer, "sizes", texts_json(&json, materials->sizes, materials->size_count));
    json_put_text(&json, answer, "terms", materials->uk ? "UK" : "US");
    json_put_real(&json, answer, "reader", materials->reader);
    json_put_real(&json, answer, "round_to", materials->round_to);
    json_put(&json, answer, "materials", yarns_json(&json, materials));
    json_put(&json, answer, "tools", tools_json(&json, materials));
    json_put(&json, answer, "notions", texts_json(&json, materials->notions, materials->notion_count));
    json_put(&json, answer, "gauge", gauges_json(&json, materials));
    json_put(&json, answer, "finished_size", named_json(&json, materials));
    json_put(&json, answer, "abbreviations", words_json(&json, materials));
    json_put_findings(&json, answer, "warnings", &work->diags, HK_WARNING, work->folder.path);
    json_put_findings(&json, answer, "assumed", &work->diags, HK_NOTE, work->folder.path);
    json_put(&json, answer, "margin", materials->margin >= 0 ? json_real(materials->margin) : json_null());
    return json_write(&json, answer, out);
}

/* ---- The command ---- */

static enum outcome print_text(const struct work *work, const struct hk_materials *materials, const struct options *options,
                               FILE *out)
{
    struct text text = text_to(out, options->width);
    struct writer writer = {.materials = materials, .out = out, .text = &text, .title = text_title,
                            .heading = text_part, .item = text_line, .close = text_close};
    const enum outcome outcome = write_block(&writer);
    if (outcome != DONE)
        return outcome;
    text_gap(&text);
    text_heading(&text, "For you, not for the pattern");
    findings_assumed(&text, &work->diags, work->folder.path);
    return text_outcome(&text);
}

static enum outcome print(const struct work *work, const struct hk_materials *materials, const struct options *options,
                          FILE *out)
{
    struct writer markdown = {.materials = materials, .out = out, .title = markdown_title, .heading = markdown_heading,
                              .item = markdown_item, .close = text_close};
    struct writer html = {.materials = materials, .out = out, .title = html_title, .heading = html_heading,
                          .item = html_item, .close = html_close};
    if (options->json)
        return print_json(work, materials, out);
    if (options->given & OPTION_MARKDOWN)
        return write_block(&markdown);
    if (options->given & OPTION_HTML)
        return write_block(&html);
    if (options->given & OPTION_CSV)
        return print_csv(materials, out);
    return print_text(work, materials, options, out);
}

/* One way to write it at a time. */
static bool one_format(const struct options *options)
{
    static const uint64_t formats[] = {OPTION_JSON, OPTION_MARKDOWN, OPTION_HTML, OPTION_CSV};
    int asked = 0;
    for (size_t i = 0; i < sizeof formats / sizeof formats[0]; i++)
        asked += (options->given & formats[i]) != 0;
    if (asked > 1)
        complain("one of --markdown, --html, --csv and --json at a time");
    return asked <= 1;
}

enum outcome cmd_materials(const struct options *options, FILE *out)
{
    struct work work = {0};
    struct hk_materials_options wanted = hk_materials_defaults();
    if (!one_format(options))
        return MISUSED;
    wanted.terms = options->terms;
    if (options->round > 0)
        wanted.round_to = options->round;
    enum outcome outcome = work_project(&work, options, work_folder(options), STAGE_NEED);
    struct hk_diags diags = {0};
    struct hk_materials *materials = outcome == DONE ? hk_materials_make(work.need, wanted, &diags) : NULL;
    findings_print(&diags, work.folder.path);
    if (outcome == DONE)
        outcome = findings_outcome(&diags);
    if (materials && outcome == DONE)
        outcome = print(&work, materials, options, out);
    hk_materials_free(materials);
    hk_diags_free(&diags);
    work_free(&work);
    return outcome;
}
