/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Memory fails at every place of lib/ that allocates, one at a time: the stage returns nothing, reports that memory ran
 * out, and leaks nothing (run under the address sanitizer). The linker's --wrap replaces every allocation function that
 * lib/ calls: the C library's, GSL's and the arena's. An arena rarely calls the C library, so failures there alone
 * would test few of the places that must handle them (tests/faults does that with the whole command).
 */
#include "support.h"

#include "base/arena.h"
#include "failing.h"
#include "pattern/edge.h"
#include "pattern/follow.h"
#include "pattern/reference.h"
#include "input/table.h"
#include "written.h"

#include <gsl/gsl_multifit_nlinear.h>
#include <gsl/gsl_rng.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- Failing functions ------------------------------------------------------------------------------------------- */

/* Names with this prefix belong to the linker's --wrap. */
void *__real_malloc(size_t size);
void *__wrap_malloc(size_t size);
void *__wrap_malloc(size_t size)
{
    return allocation_fails() ? NULL : __real_malloc(size);
}

void *__real_calloc(size_t count, size_t size);
void *__wrap_calloc(size_t count, size_t size);
void *__wrap_calloc(size_t count, size_t size)
{
    return allocation_fails() ? NULL : __real_calloc(count, size);
}

void *__real_realloc(void *memory, size_t size);
void *__wrap_realloc(void *memory, size_t size);
void *__wrap_realloc(void *memory, size_t size)
{
    return allocation_fails() ? NULL : __real_realloc(memory, size);
}

char *__real_strdup(const char *text);
char *__wrap_strdup(const char *text);
char *__wrap_strdup(const char *text)
{
    return allocation_fails() ? NULL : __real_strdup(text);
}

gsl_matrix *__real_gsl_matrix_alloc(size_t rows, size_t columns);
gsl_matrix *__wrap_gsl_matrix_alloc(size_t rows, size_t columns);
gsl_matrix *__wrap_gsl_matrix_alloc(size_t rows, size_t columns)
{
    return allocation_fails() ? NULL : __real_gsl_matrix_alloc(rows, columns);
}

gsl_vector *__real_gsl_vector_alloc(size_t count);
gsl_vector *__wrap_gsl_vector_alloc(size_t count);
gsl_vector *__wrap_gsl_vector_alloc(size_t count)
{
    return allocation_fails() ? NULL : __real_gsl_vector_alloc(count);
}

gsl_rng *__real_gsl_rng_alloc(const gsl_rng_type *type);
gsl_rng *__wrap_gsl_rng_alloc(const gsl_rng_type *type);
gsl_rng *__wrap_gsl_rng_alloc(const gsl_rng_type *type)
{
    return allocation_fails() ? NULL : __real_gsl_rng_alloc(type);
}

typedef gsl_multifit_nlinear_workspace *workspace_alloc(const gsl_multifit_nlinear_type *,
                                                        const gsl_multifit_nlinear_parameters *, size_t, size_t);
workspace_alloc __real_gsl_multifit_nlinear_alloc, __wrap_gsl_multifit_nlinear_alloc;
gsl_multifit_nlinear_workspace *__wrap_gsl_multifit_nlinear_alloc(const gsl_multifit_nlinear_type *type,
                                                                  const gsl_multifit_nlinear_parameters *parameters,
                                                                  size_t data, size_t unknowns)
{
    return allocation_fails() ? NULL : __real_gsl_multifit_nlinear_alloc(type, parameters, data, unknowns);
}

static bool arena_fails(struct hk_arena *arena)
{
    if (arena->out_of_memory || !allocation_fails())
        return false;
    arena->out_of_memory = true;
    return true;
}

void *__real_hk_arena_take(struct hk_arena *arena, size_t count, size_t size);
void *__wrap_hk_arena_take(struct hk_arena *arena, size_t count, size_t size);
void *__wrap_hk_arena_take(struct hk_arena *arena, size_t count, size_t size)
{
    return arena_fails(arena) ? NULL : __real_hk_arena_take(arena, count, size);
}

char *__real_hk_arena_text(struct hk_arena *arena, const char *text, size_t length);
char *__wrap_hk_arena_text(struct hk_arena *arena, const char *text, size_t length);
char *__wrap_hk_arena_text(struct hk_arena *arena, const char *text, size_t length)
{
    return arena_fails(arena) ? NULL : __real_hk_arena_text(arena, text, length);
}

char *__wrap_hk_arena_print(struct hk_arena *arena, const char *format, ...) HK_PRINTF(2, 3);
char *__wrap_hk_arena_print(struct hk_arena *arena, const char *format, ...)
{
    if (arena_fails(arena))
        return NULL;
    char text[8192];
    va_list args;
    va_start(args, format);
    int length = vsnprintf(text, sizeof text, format, args);
    va_end(args);
    assert_in_range(length, 0, sizeof text - 1);
    return __real_hk_arena_text(arena, text, (size_t)length);
}

void *__real_hk_arena_grow(struct hk_arena *arena, void *array, size_t count, size_t *capacity, size_t size);
void *__wrap_hk_arena_grow(struct hk_arena *arena, void *array, size_t count, size_t *capacity, size_t size);
void *__wrap_hk_arena_grow(struct hk_arena *arena, void *array, size_t count, size_t *capacity, size_t size)
{
    return count >= *capacity && arena_fails(arena) ? NULL : __real_hk_arena_grow(arena, array, count, capacity, size);
}

/* Edges have spare room, and allocate rarely, like the arena; in the tests of rows each growth may fail. */
static bool edges_fail;

bool __real_hk_edge_room(struct hk_edge *edge, size_t count);
bool __wrap_hk_edge_room(struct hk_edge *edge, size_t count);
bool __wrap_hk_edge_room(struct hk_edge *edge, size_t count)
{
    return !(edges_fail && allocation_fails()) && __real_hk_edge_room(edge, count);
}

bool __real_hk_edge_push(struct hk_edge *edge, struct hk_spot spot);
bool __wrap_hk_edge_push(struct hk_edge *edge, struct hk_spot spot);
bool __wrap_hk_edge_push(struct hk_edge *edge, struct hk_spot spot)
{
    return !(edges_fail && allocation_fails()) && __real_hk_edge_push(edge, spot);
}

bool __real_hk_edge_add(struct hk_edge *to, const struct hk_spot *spots, size_t count);
bool __wrap_hk_edge_add(struct hk_edge *to, const struct hk_spot *spots, size_t count);
bool __wrap_hk_edge_add(struct hk_edge *to, const struct hk_spot *spots, size_t count)
{
    return !(edges_fail && allocation_fails()) && __real_hk_edge_add(to, spots, count);
}

bool __real_hk_edge_copy(struct hk_edge *to, const struct hk_edge *from);
bool __wrap_hk_edge_copy(struct hk_edge *to, const struct hk_edge *from);
bool __wrap_hk_edge_copy(struct hk_edge *to, const struct hk_edge *from)
{
    return !(edges_fail && allocation_fails()) && __real_hk_edge_copy(to, from);
}

/* ---- Folders in memory that open without allocation -------------------------------------------------------------- */

#define READERS_MOST 4

struct texts {
    const struct memory_file *files;
    struct text_reader {
        const char *at;
    } readers[READERS_MOST];
};

static ptrdiff_t text_read(void *handle, void *bytes, size_t count, const char **why)
{
    (void)why;
    struct text_reader *reader = handle;
    size_t left = strlen(reader->at), size = left < count ? left : count;
    memcpy(bytes, reader->at, size);
    reader->at += size;
    return (ptrdiff_t)size;
}

static void text_close(void *handle)
{
    ((struct text_reader *)handle)->at = NULL;
}

static enum hk_open text_open(void *host, const char *name, struct hk_file *file, const char **why)
{
    (void)why;
    struct texts *texts = host;
    const struct memory_file *found = texts->files;
    while (found->name && strcmp(found->name, name) != 0)
        found++;
    if (!found->name)
        return HK_OPEN_ABSENT;
    struct text_reader *reader = texts->readers;
    while (reader->at)
        reader++;
    reader->at = found->text;
    *file = (struct hk_file){.handle = reader, .read = text_read, .close = text_close};
    return HK_OPEN_DONE;
}

static struct hk_source texts_source(struct texts *texts)
{
    return (struct hk_source){texts, text_open};
}

/* ---- The stages -------------------------------------------------------------------------------------------------- */

/* Each stage borrows the earlier ones; NULL if it was not made. */
struct stages {
    const struct hk_source *source;
    const struct hk_catalogue *catalogue;
    struct hk_project *project;
    struct hk_tally *tally;
    struct hk_fit *fit;
    struct hk_time_fit *time;
    struct hk_need *need;
    struct hk_hours *hours;
    struct hk_shop *shop;
    struct hk_yarn_list *list;
    enum hk_question question;
    bool mixed;                /* a kit of each size, in one batch */
    const struct hk_hand *hand; /* typed beside the folder; NULL: nothing */
    const char *const *words;  /* words to convert, or rows to read */
    struct hk_convert *result; /* room for the results */
    const char *const *rows;   /* pattern to read, print and follow */
    struct hk_arena *arena;    /* room for the results */
    size_t made;               /* stages that gave an answer without failures */
};

/* The function that makes a stage from the earlier ones, and the function that frees it. */
struct stage {
    const char *name;
    void *(*make)(const struct stages *before, struct hk_diags *diags);
    void (*release)(void *made);
};

static void *make_catalogue(const struct stages *before, struct hk_diags *diags)
{
    return hk_catalogue_read(before->source, diags);
}

static void release_catalogue(void *made)
{
    hk_catalogue_free(made);
}

static void *make_project(const struct stages *before, struct hk_diags *diags)
{
    return before->hand ? hk_project_read_hand(before->source, before->catalogue, before->hand, diags)
                        : hk_project_read(before->source, before->catalogue, diags);
}

static void release_project(void *made)
{
    hk_project_free(made);
}

static void *make_tally(const struct stages *before, struct hk_diags *diags)
{
    return hk_tally_count(before->project, diags);
}

static void release_tally(void *made)
{
    hk_tally_free(made);
}

static void *make_fit(const struct stages *before, struct hk_diags *diags)
{
    return hk_fit_make(before->tally, diags);
}

static void *make_time(const struct stages *before, struct hk_diags *diags)
{
    return hk_fit_time(before->tally, diags);
}

static void release_fit(void *made)
{
    hk_fit_free(made);
}

static void release_time(void *made)
{
    hk_time_fit_free(made);
}

static void *make_need(const struct stages *before, struct hk_diags *diags)
{
    return hk_need_predict(before->fit, hk_need_defaults(), diags);
}

static void release_need(void *made)
{
    hk_need_free(made);
}

static void *make_evidence(const struct stages *before, struct hk_diags *diags)
{
    return hk_evidence_explain(before->fit, diags);
}

static void release_evidence(void *made)
{
    hk_evidence_free(made);
}

/* Of the first role and size. */
static void *make_ends(const struct stages *before, struct hk_diags *diags)
{
    return hk_need_ball_ends(before->need, 0, diags);
}

static void release_ends(void *made)
{
    hk_need_ball_ends_free(made);
}

static void *make_hours(const struct stages *before, struct hk_diags *diags)
{
    return hk_hours_predict(before->time, HK_NO_SIZE, diags);
}

static void release_hours(void *made)
{
    hk_hours_free(made);
}

static void *make_shop(const struct stages *before, struct hk_diags *diags)
{
    return hk_shop_plan(before->need, hk_shop_defaults(), diags);
}

static void release_shop(void *made)
{
    hk_shop_free(made);
}

static void *make_list(const struct stages *before, struct hk_diags *diags)
{
    static const struct memory_file files[] = {{"list.csv",
                                                "yarn,put_up,length,colour,fibre,category,price\n"
                                                "Jetty Merino,50 g,124 m,Fog,\"90% merino, 10% nylon\",3,7.20\n"
                                                "Jetty Merino,100 g,248 m,Fog,\"90% merino, 10% nylon\",3,13.00\n"
                                                "Eider Sock,50 g,240 m,Down,,1,\n",
                                                0},
                                               {NULL, NULL, 0}};
    struct texts host = {.files = files};
    struct hk_source source = texts_source(&host);
    return hk_yarn_list_read(&source, "list.csv", before->project, diags);
}

static void release_list(void *made)
{
    hk_yarn_list_free(made);
}

static void *make_compare(const struct stages *before, struct hk_diags *diags)
{
    struct hk_compare_options options = hk_compare_defaults();
    options.list = before->list;
    options.held_together = true;
    return hk_compare_make(before->need, options, diags);
}

static void release_compare(void *made)
{
    hk_compare_free(made);
}

static void *make_quote(const struct stages *before, struct hk_diags *diags)
{
    static const int64_t kits[] = {1, 1, 1, 1, 1, 1, 1, 1}, discount = 500000;
    assert_true(hk_project_sizes(before->project) <= sizeof kits / sizeof kits[0]);
    struct hk_quote_options options = hk_quote_defaults(before->question);
    if (before->question == HK_QUESTION_PATTERN)
        options.sales = 100;
    options.kits = before->mixed ? kits : NULL;
    options.sure = before->mixed ? 0 : 0.9;
    options.discount_millionths = &discount;
    options.discount_count = 1;
    return hk_quote_make(before->need, before->shop, before->hours, options, diags);
}

static void release_quote(void *made)
{
    hk_quote_free(made);
}

static void *make_materials(const struct stages *before, struct hk_diags *diags)
{
    struct hk_materials_options options = hk_materials_defaults();
    options.terms = HK_TERMS_WANTED_UK;
    return hk_materials_make(before->need, options, diags);
}

static void release_materials(void *made)
{
    hk_materials_free(made);
}

static void *make_schematic(const struct stages *before, struct hk_diags *diags)
{
    return hk_schematic_make(before->tally, HK_NO_SIZE, diags);
}

static void release_schematic(void *made)
{
    hk_schematic_free(made);
}

/* The second size in UK terms, as Markdown. */
static void *make_reprint(const struct stages *before, struct hk_diags *diags)
{
    const struct hk_reprint_options options = {.size = 1, .terms = HK_TERMS_WANTED_UK, .markdown = true};
    return hk_reprint_make(before->project, options, diags);
}

static void release_reprint(void *made)
{
    hk_reprint_free(made);
}

static void *make_convert(const struct stages *before, struct hk_diags *diags)
{
    size_t count = 0;
    while (before->words[count])
        count++;
    bool done = hk_convert_words(before->words, count, before->catalogue, before->project, before->result, diags);
    return done ? before->result : NULL;
}

static void release_convert(void *made)
{
    hk_convert_free(made);
}

/* Reads each row, prints it and works it on the edge of the row before, in the second of two sizes. */
static bool follow_rows(const struct stages *before, struct hk_follow *follow, struct hk_diags *diags)
{
    const struct hk_row_words words = written_words(before->catalogue, HK_TERMS_US, 2);
    for (size_t i = 0; before->rows[i]; i++) {
        struct hk_row row;
        struct hk_followed followed;
        if (!written_read(before->rows[i], &words, &row, before->arena, diags))
            return false;
        if (diags->out_of_memory || !hk_row_print(&row, &words, before->arena) ||
            !hk_follow_row(follow, &row, (struct hk_manner){0}, &followed))
            return !(diags->out_of_memory = true);
        if (!followed.good)
            fail_msg("%s: %s", before->rows[i], followed.trouble.text);
    }
    return true;
}

static void *make_rows(const struct stages *before, struct hk_diags *diags)
{
    const struct hk_conventions conventions = {0};
    int64_t effort = 100000;
    struct hk_follow *follow = hk_follow_new(before->catalogue, &conventions, 1, &effort);
    struct hk_follow *other = follow ? hk_follow_new(before->catalogue, &conventions, 1, &effort) : NULL;
    bool started = other && hk_follow_chain(follow, 124, false);
    bool good = started && follow_rows(before, follow, diags);
    if (!started || (good && (!hk_follow_copy(other, follow) || !hk_follow_ring(follow))))
        diags->out_of_memory = true;
    hk_follow_free(follow);
    hk_follow_free(other);
    if (good && !diags->out_of_memory)
        return before->arena;
    hk_arena_free(before->arena);
    return NULL;
}

static void release_rows(void *made)
{
    hk_arena_free(made);
}

/* Texts that refer to other rows, and rows; in three sizes. */
static void *make_words(const struct stages *before, struct hk_diags *diags)
{
    const struct hk_row_words words = written_words(before->catalogue, HK_TERMS_US, 3);
    for (size_t i = 0; before->rows[i]; i++) {
        struct hk_reference reference;
        diags->out_of_memory |= !hk_reference_read(before->rows[i], 3, &reference, before->arena);
    }
    for (size_t i = 0; before->words[i]; i++) {
        struct hk_row row;
        diags->out_of_memory |= !written_read(before->words[i], &words, &row, before->arena, diags);
    }
    if (!diags->out_of_memory)
        return before->arena;
    hk_arena_free(before->arena);
    return NULL;
}

static void *make_table(const struct stages *before, struct hk_diags *diags)
{
    static const struct hk_column columns[] = {{"role", true, true}, {"yarn", true, false}, {NULL, false, false}};
    return hk_table_read(before->source, "yarns.csv", (struct hk_table_options){.columns = columns, .accepts = true}, diags);
}

static void release_table(void *made)
{
    hk_table_free(made);
}

static void *make_settings(const struct stages *before, struct hk_diags *diags)
{
    return hk_text_settings_read(before->source, "mine.txt", before->catalogue, diags);
}

static void *make_left(const struct stages *before, struct hk_diags *diags)
{
    return hk_remaining_predict(before->need, hk_project_size_in_hand(before->project), diags);
}

static void release_left(void *made)
{
    hk_remaining_free(made);
}

static void *make_from(const struct stages *before, struct hk_diags *diags)
{
    return hk_from_find(before->need, (struct hk_from_options){"strip"}, diags);
}

static void release_from(void *made)
{
    hk_from_free(made);
}

static void *make_calibration(const struct stages *before, struct hk_diags *diags)
{
    return hk_calibration_make(before->fit, 0.95, diags);
}

static void release_calibration(void *made)
{
    hk_calibration_free(made);
}

static void release_settings(void *made)
{
    hk_text_settings_free(made);
}

static const struct stage settings_stage = {"settings", make_settings, release_settings},
                          table_stage = {"table", make_table, release_table},
                          catalogue_stage = {"catalogue", make_catalogue, release_catalogue},
                          project_stage = {"project", make_project, release_project},
                          tally_stage = {"tally", make_tally, release_tally},
                          fit_stage = {"fit", make_fit, release_fit}, time_stage = {"time", make_time, release_time},
                          need_stage = {"need", make_need, release_need},
                          evidence_stage = {"evidence", make_evidence, release_evidence},
                          ends_stage = {"ends", make_ends, release_ends},
                          left_stage = {"left", make_left, release_left},
                          from_stage = {"from", make_from, release_from},
                          calibration_stage = {"calibration", make_calibration, release_calibration},
                          hours_stage = {"hours", make_hours, release_hours},
                          shop_stage = {"shop", make_shop, release_shop},
                          list_stage = {"list", make_list, release_list},
                          compare_stage = {"compare", make_compare, release_compare},
                          convert_stage = {"convert", make_convert, release_convert},
                          quote_stage = {"quote", make_quote, release_quote},
                          materials_stage = {"materials", make_materials, release_materials},
                          schematic_stage = {"schematic", make_schematic, release_schematic},
                          reprint_stage = {"reprint", make_reprint, release_reprint},
                          rows_stage = {"rows", make_rows, release_rows},
                          words_stage = {"words", make_words, release_rows};

/* ---- Failing ----------------------------------------------------------------------------------------------------- */

/* GLPK does not report why it stopped. */
static bool basket_failed(const struct hk_diags *diags)
{
    bool failed = false;
    for (size_t i = 0; i < diags->count; i++)
        failed |= diags->findings[i].code == HK_CODE_BASKET;
    return failed;
}

/*
 * Makes the stage with one failing allocation: it returns nothing, and the findings state the reason. If the input has
 * errors anyway, the findings may be the same as without the failure, if the memory was not needed.
 */
static bool fails_well(const struct stage *stage, const struct stages *before, size_t failing, bool for_good,
                       const char *errors)
{
    struct hk_diags diags = {0};
    failing_at(failing, for_good);
    void *made = stage->make(before, &diags);
    size_t failures = failing_stop();
    char *text = findings_text(&diags);
    bool well = failures > 0 && !made && !hk_diags_ok(&diags) &&
                (diags.out_of_memory || basket_failed(&diags) || (errors && strcmp(text, errors) == 0));
    if (!well)
        print_error("%s, allocation %zu%s: %zu failed%s, and the findings are\n%s", stage->name, failing,
                    for_good ? " and all from it on" : "", failures, made ? ", it was made" : "", text);
    if (made)
        stage->release(made);
    free(text);
    hk_diags_free(&diags);
    return well;
}

/*
 * Makes the stage with a failure at each place in turn, and returns the result without failures: NULL if there are
 * errors.
 */
static void *make_each(const struct stage *stage, struct stages *before)
{
    struct hk_diags diags = {0};
    failing_note();
    void *made = stage->make(before, &diags);
    failing_stop();
    assert_false(diags.out_of_memory);
    assert_int_equal(made == NULL, diags.errors > 0);
    char *errors = made ? NULL : findings_text(&diags);
    hk_diags_free(&diags);

    const size_t *places;
    size_t count = failing_places(&places), wrong = 0;
    for (size_t i = 0; i < count; i++)
        for (int for_good = 0; for_good < 2; for_good++)
            wrong += !fails_well(stage, before, places[i], for_good, errors);
    free(errors);
    assert_int_equal(wrong, 0);
    before->made += made != NULL;
    return made;
}

static void release(const struct stage *stage, void *made)
{
    if (made)
        stage->release(made);
}

static void fail_in_quotes(struct stages *s)
{
    for (s->question = HK_QUESTION_COMMISSION; s->question <= HK_QUESTION_PATTERN; s->question++)
        release(&quote_stage, make_each(&quote_stage, s));
    s->question = HK_QUESTION_KIT;
    s->mixed = true;
    release(&quote_stage, make_each(&quote_stage, s));
    s->mixed = false;
}

/* Stages that depend on the need. */
static void fail_beyond_need(struct stages *s)
{
    release(&materials_stage, make_each(&materials_stage, s));
    release(&ends_stage, make_each(&ends_stage, s));
    s->list = make_each(&list_stage, s);
    release(&compare_stage, make_each(&compare_stage, s));
    release(&list_stage, s->list);
    s->shop = make_each(&shop_stage, s);
    s->time = make_each(&time_stage, s);
    s->hours = make_each(&hours_stage, s);
    if (s->shop)
        fail_in_quotes(s);
    release(&hours_stage, s->hours);
    release(&time_stage, s->time);
    release(&shop_stage, s->shop);
}

/* Runs every stage of a folder as far as possible. Returns the number of stages. */
static size_t fail_in_folder(struct hk_source source, const struct hk_catalogue *catalogue)
{
    struct stages s = {.source = &source, .catalogue = catalogue};
    s.project = make_each(&project_stage, &s);
    s.tally = s.project ? make_each(&tally_stage, &s) : NULL;
    s.fit = s.tally ? make_each(&fit_stage, &s) : NULL;
    if (s.fit)
        release(&evidence_stage, make_each(&evidence_stage, &s));
    if (s.fit)
        release(&calibration_stage, make_each(&calibration_stage, &s));
    s.need = s.fit ? make_each(&need_stage, &s) : NULL;
    if (s.need)
        fail_beyond_need(&s);
    release(&need_stage, s.need);
    release(&fit_stage, s.fit);
    release(&tally_stage, s.tally);
    release(&project_stage, s.project);
    return s.made;
}

/* ---- Tests ------------------------------------------------------------------------------------------------------- */

static void a_table_notices_every_failure(void **state)
{
    (void)state;
    static const char *const texts[] = {
        "role,yarn,notes\na,b,c\nd,e,f\n",
        "role,yarn,notes,ok: column-unknown\na,b,c,unusual; category\nd,e,f,unusual\n",
        "role,yarm\na,\"b\n\nc,d,e\nf,5\"\n,g\n",
        "role,yarn\na,\xE9\n",
        "main,Merino\n",
    };
    for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++) {
        const struct memory_file files[] = {{"yarns.csv", texts[i], 0}, {NULL, NULL, 0}};
        struct texts host = {.files = files};
        struct hk_source source = texts_source(&host);
        release(&table_stage, make_each(&table_stage, &(struct stages){.source = &source}));
    }
}

static void the_shipped_tables_notice_every_failure(void **state)
{
    (void)state;
    struct hk_source source = hk_source_folder(TABLES_DIR);
    release(&catalogue_stage, make_each(&catalogue_stage, &(struct stages){.source = &source}));
}

static void every_stage_of_a_folder_notices_every_failure(void **state)
{
    static const char *const folders[] = {"ferry-cushion",
                                          "pier-shawl",
                                          "skerry-cardigan",
                                          "../tests/cli/bare-project/in/p",
                                          "../tests/cli/bare-project/in/q",
                                          "../tests/cli/bare-project/in/r"};
    for (size_t i = 0; i < sizeof folders / sizeof folders[0]; i++) {
        char path[4096];
        snprintf(path, sizeof path, "%s/%s", EXAMPLES_DIR, folders[i]);
        fail_in_folder(hk_source_folder(path), *state);
    }
    fail_in_folder(hk_source_folder(TABLES_DIR "/start"), *state);
}

static void words_to_convert_notice_every_failure(void **state)
{
    static const char *const words[][8] = {
        {"275 g", "50 g = 120 m"},
        {"275", "g", "50", "g", "=", "120", "m"},
        {"500 m", "Nm 16/2"},
        {"2/16 Ne"},
        {"2 mm thick"},
        {"diameter 2 mm", "10 g"},
        {"275 g", "category 4"},
        {"Lace"},
        {"5'", "2\""},
        {"275 g", "Quay DK"},
        {"275 g", "yarn main"},
        {"12 wpi"},
        {"275 gramms", "50 g = 120"},
        {"275", "5"},
        {"275 g", "5 oz"},
        {"moon"},
        {"how many skeins of 50 g (120 m) for 500 m"},
        {"3 balls of Quay DK"},
        {"2", "1/2", "cakes", "fluffy stuff"},
        {"how many balls of 50 g = 120 m"},
        {"50 g = 2 oz"},
        {"400 tex", "12 wpi"},
        {"50 g = x m"},
        {"diameter 0 mm"},
        {"20 min"},
        {"5 [g]"},
    };
    struct hk_source source = hk_source_folder(TABLES_DIR "/start");
    struct hk_diags diags = {0};
    struct hk_project *project = hk_project_read(&source, *state, &diags);
    assert_non_null(project);
    hk_diags_free(&diags);
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
        struct hk_convert result = {0};
        struct stages s = {.catalogue = *state, .project = project, .words = words[i], .result = &result};
        release(&convert_stage, make_each(&convert_stage, &s));
    }
    hk_project_free(project);
}

/* Every feature of the files, once. */
static void a_folder_of_every_kind_notices_every_failure(void **state)
{
    static const struct memory_file files[] = {
        {"project.csv",
         "field,value\ntitle,Slip throw\nsizes,\"S (M, "
         "L)\"\nterms,UK\ncurrency,EUR\nshort_cost,4.50\nspare_worth,50%\njoin,anywhere\n"
         "lots,may mix\nswatches,count in\nlearn_from,../hat\nmaking,5%\nreader,10%\n"
         "maker,Quay\nplace,Skerry\ncare,cool\nconditions,as agreed\nvalid_for,30 days\nready_in,6 weeks\n"
         "tax_shown,separately\n",
         0},
        {"grade.csv",
         "name,unit,S,M,L,print\nwidth,cm,40,44,48,yes\nwrist,cm,18,17,20,yes\ndeep,in,10 "
         "1/2,11,12,\nround,,24,30,36,\n",
         0},
        {"yarns.csv",
         "role,yarn,put_up,length,colour,fibre,category,price,wpi\n"
         "main,Quay DK,50 g,120 m,Slate,\"80% wool, 20% nylon\",3,6.40,12\nlace,Quay Lace,25 g,210 m,Slate,mohair,,7,\n"
         "main,Holm DK,50 g,118 m,Slate,wool,3,5.10,\nmain,Skerry Aran,100 g,160 m,Tar,wool,4,8,\n",
         0},
        {"fabrics.csv",
         "fabric,row,make\nshell,set-up,\"tch 1, dc 1, *dc 1*\"\nshell,1,\"tch 3 as tr, *sk 2, 5 tr in 1, sk 2, dc 1*, "
         "turn\"\n"
         "shell,2,\"tch 3 as tr, *(tr 1, ch 1) x 2, sk 2, tr 2*\"\nplain,1,\"tch 1, *dc 1, rep from "
         "*\"\nfringe,1,\"*cut 20 cm twice, sk 4*\"\n",
         0},
        {"swatches.csv",
         "swatch,yarn,tool,fabric,stitches,rows,start,gauge,width,height,weight,scale_step,unravelled,tape_step,ends,"
         "minutes,print,gauge_as\n"
         "one,main,4 mm,double crochet,20,20,,20 x 25,,,9 g,0.1 g,21 m,1 cm,2,20,yes,\n"
         "two,main + lace,H-8,double crochet,20,20,,,10 cm,8 cm,12 g,1 g,,,,25,no,one\n"
         "knit,main,4.5 mm,stockinette,20,20,,20 x 28,,,11 g,0.1 g,,,,,,\n",
         0},
        {"pieces.csv",
         "piece,part,fabric,yarn,tool,stitches,rows,end_stitches,times,start,ends,carry\n"
         "strip,foot,double crochet,main + lace,H-8,width,deep,,2,,,\nback,,double crochet,main,4 mm,20,\"10 (9, "
         "12)\",,,,,\nknit,,stockinette,main,5 mm,20,\"30 cm (29 cm, 32 cm)\",,,,,\n"
         "strip,neck,double crochet,\"main 2, lace 1\",4 mm,round,8,\"20 (24, 30)\",1,chain,2,yes\n"
         "cap,,single crochet circle,main x2,5 mm,6,4,,,ring,,\nfringe,,fringe,lace,4 mm,20,1,,2,edge,,\n",
         0},
        {"offers.csv",
         "role,shop,put_up,price,yarn,colour,lot,length,pack,stock\nmain,own,50 g,0,,Slate,A,,,1\nmain,Mole Wool,50 "
         "g,6.10; from 9 5.80,,,B,120 m,,4000\n"
         "main,Mole Wool,100 g,5 for 59.99,,Slate,B,,,4000\nlace,Mole Wool,25 g,6.80,,,,,,\nlace,Sound Mill,50 "
         "g,13,,,C,,,3000\n",
         0},
        {"shops.csv",
         "shop,postage,free_from,off,off_from,off_percent\nMole Wool,4.90,60,2,20,\nSound Mill,5.50,,,50,10%\n", 0},
        {"costs.csv",
         "item,kind,amount,quantity,per,print\nbuttons,material,0.85,\"3 (3, "
         "4)\",,yes\nbag,material,0.10,,,no\nwork,labour,14.00,,\nend,labour,14.00,15 "
         "min,kit\nstudio,overhead,8%,,\n"
         "profit,markup,10%,,materials\nmarket,fee,6.5%,,\npay,fee,EUR "
         "0.25,,\nVAT,tax,20%,,added\nbox,kit,1.10,,\nart,fixed,45.00,,batch\n"
         "testers,fixed,30.00,3,pattern\nparcel,postage,5.20,,\n",
         0},
        {"progress.csv",
         "size,piece,part,rows,weight,yarn,of,scale_step,minutes\nM,strip 1,foot,10,12 g,main,,0.1 g,\nM,strip "
         "1,neck,4,6 g,main,,,30\n"
         "M,strip 2,foot,,40 g,main,left,1 g,\nL,cap,,2,3 g,,,,20\nM,strip 1,foot,12,14 g,main,,0.1 g,\n",
         0},
        {"testers.csv",
         "tester,size,yarn,tool,gauge,used,scale_step\nAda,M,main,4 mm,20 x 10,160 g,\nAda,M,lace,,,90 "
         "m,\nBo,L,,H-8,,200 g,5 g\n"
         "bo,S,Skerry Aran,,,900 g,\n",
         0},
        {"../hat/project.csv", "field,value\ntail,20 cm\n", 0},
        {"../hat/yarns.csv", "role,yarn,put_up,length,fibre,ball_weighs\nmain,Quay DK,50 g,120 m,wool,3 balls 147 g\n",
         0},
        {"../hat/swatches.csv",
         "swatch,yarn,tool,fabric,stitches,rows,weight\nhat,main,5 mm,single crochet,30,20,16 g\n", 0},
        {"../hat/pieces.csv", "piece,fabric,yarn,tool,stitches,rows\nhat,single crochet,main,5 mm,72,20\n", 0},
        {"../hat/progress.csv", "size,piece,weight\n,hat,40 g\n", 0},
        {NULL, NULL, 0}};
    struct texts host = {.files = files};
    assert_int_equal(fail_in_folder(texts_source(&host), *state),
                     17); /* all, a quote for each question and of one batch */
}

/* Every outline, most reasons not to draw one, and rows of a pattern. */
static void a_schematic_notices_every_failure(void **state)
{
    static const struct memory_file files[] = {
        {"project.csv", "field,value\nsizes,\"S (M)\"\n", 0},
        {"yarns.csv", "role,yarn,put_up,length\nmain,Quay DK,50 g,120 m\n", 0},
        {"fabrics.csv", "fabric,row,make\nopen,1,*sc 1*\nwidening,1,\"tch 1, 2 sc in 1, *sc 1*\"\n", 0},
        {"swatches.csv",
         "swatch,yarn,tool,fabric,stitches,rows,gauge,start\nflat,main,4 mm,single crochet,20,20,20 x 25,\n"
         "tube,main,4 mm,single crochet in a spiral,40,20,20 x 25,\ndisc,main,4 mm,single crochet circle,,5,20 x "
         "20,ring\n"
         "hexagon,main,4 mm,hexagon,,5,20 x 10,ring\nopen,main,4 mm,open,20,20,20 x 25,\n"
         "widening,main,4 mm,widening,20,5,20 x 25,\n",
         0},
        {"pieces.csv",
         "piece,part,fabric,yarn,tool,stitches,rows,end_stitches,times,start,every\n"
         "front,body,single crochet,main,4 mm,40,40,,2,,\nfront,neck,single crochet,main,4 mm,,10,30,2,,\n"
         "hat,,single crochet in a spiral,main,4 mm,96,30,,,,\nhat,crown,single crochet in a spiral,main,4 "
         "mm,,20,8,,,\n"
         "disc,,single crochet circle,main,4 mm,,10,,,ring,\nhexagon,,hexagon,main,4 mm,,5,,,ring,\n"
         "a,,open,main,4 mm,40,50,,,,\nb,,widening,main,4 mm,20,10,,,,\nc,,single crochet,main,4 mm,80,20,160,,,\n"
         "d,,double crochet,main,4 mm,40,50,,,,\n",
         0},
        {"pattern.txt",
         "# Back\nWith main and 4 mm hook, ch 33.\nRow 1: Sc in 2nd ch from hook and in each ch across, turn.\n"
         "Rows 2-10: Ch 1, sc in each sc across, turn.\nRow 11: Ch 1, sc2tog, sc in each sc to last 8 sts, turn, "
         "leaving rem sts "
         "unworked.\nRow 12: Ch 1, sc in each sc across, turn.\nFasten off.\n# Strap\nWith main and 4 mm hook, ch 5.\n"
         "Row 1: Sc in 2nd ch from hook and in each ch across, turn.\nRow 2: Ch 1, sc, 3 sc in next sc, sc in next 2 "
         "sc, turn.\n",
         0},
        {NULL, NULL, 0}};
    struct texts host = {.files = files};
    struct hk_source source = texts_source(&host);
    struct hk_diags diags = {0};
    struct stages s = {.source = &source, .catalogue = *state};
    s.project = make_project(&s, &diags);
    assert_non_null(s.project);
    s.tally = make_tally(&s, &diags);
    assert_non_null(s.tally);
    release(&schematic_stage, make_each(&schematic_stage, &s));
    assert_int_equal(s.made, 1);
    hk_diags_free(&diags);
    release(&tally_stage, s.tally);
    release(&project_stage, s.project);
}

/* Few rows in a ball: the needs and the basket are simulated row by row. */
static void a_folder_of_few_rows_a_ball_notices_every_failure(void **state)
{
    static const struct memory_file files[] = {
        {"project.csv", "field,value\nsizes,one\ncurrency,EUR\n", 0},
        {"yarns.csv",
         "role,yarn,put_up,length,ball_weighs\nmain,Quay DK,50 g,120 m,2 balls: 98 g\ntrim,Quay Lace,25 g,100 m,24 g\n",
         0},
        {"pieces.csv", "piece,fabric,yarn,tool,stitches,rows\nstrip,single crochet,\"main 4, trim 1\",4 mm,500,10\n",
         0},
        {"offers.csv",
         "role,shop,put_up,price\nmain,Mole Wool,50 g,6.10\nmain,Mole Wool,25 g,4\ntrim,Mole Wool,25 g,6.80\n", 0},
        {NULL, NULL, 0}};
    struct texts host = {.files = files};
    assert_int_equal(fail_in_folder(texts_source(&host), *state), 13);
}

/* Work typed in place of a file, what is left of it, and the rows that the yarn is enough for; then mistakes in the
 * words. */
static void work_in_hand_notices_every_failure(void **state)
{
    static const struct memory_file files[] = {
        {"project.csv", "field,value\ncurrency,EUR\n", 0},
        {"yarns.csv", "role,yarn,put_up,length\nmain,Quay DK,50 g,120 m\ntrim,Quay Lace,25 g,100 m\n", 0},
        {"pieces.csv",
         "piece,part,fabric,yarn,tool,stitches,rows,times\nstrip,,single crochet,main,4 mm,30,20,\n"
         "cap,crown,single crochet,main + trim,4 mm,20,4,2\ncap,brim,single crochet,trim,4 mm,20,2,2\n",
         0},
        {"offers.csv", "role,shop,put_up,price,stock,lot\nmain,own,50 g,0,1,7\nmain,Mole Wool,50 g,6,3,7\n", 0},
        {NULL, NULL, 0}};
    static const struct hk_hand hands[] = {
        {.done = "strip 12 rows, cap 1 crown",
         .used = "main 12 g, trim 2 g",
         .left = "main 18 g, trim 5 g",
         .have = "trim 1 ball"},
        {.done = "strip 12 rows", .left = "main 18 g, 1 ball of trim", .have = "1.5 balls of main"},
        {.done = "strip 12 rows, strip 3 rows, cup, , cap brimm",
         .used = "man 9 g, 9",
         .left = "9 g",
         .have = "main x, main 1 ball, main 2"}};
    for (size_t i = 0; i < sizeof hands / sizeof hands[0]; i++) {
        struct texts host = {.files = files};
        struct hk_source source = texts_source(&host);
        struct stages s = {.source = &source, .catalogue = *state, .hand = &hands[i]};
        s.project = make_each(&project_stage, &s);
        assert_int_equal(s.made, i < 2);
        if (!s.project)
            continue;
        struct hk_diags diags = {0};
        s.tally = hk_tally_count(s.project, &diags);
        s.fit = hk_fit_make(s.tally, &diags);
        s.need = hk_need_predict(s.fit, hk_need_defaults(), &diags);
        release(&left_stage, make_each(&left_stage, &s));
        release(&from_stage, make_each(&from_stage, &s));
        assert_int_equal(s.made, 3);
        hk_diags_free(&diags);
        release(&need_stage, s.need);
        release(&fit_stage, s.fit);
        release(&tally_stage, s.tally);
        release(&project_stage, s.project);
    }
}

/* A mistake in every file, and in most columns. */
static void a_folder_of_mistakes_notices_every_failure(void **state)
{
    static const struct memory_file files[] = {
        {"project.csv",
         "field,value\ntitle,\nsizes,\"S (M, "
         "M)\"\nterms,Welsh\ncurrency,EUX\nchance,300%\nmargin,none\ntail,15\njoin,maybe\nlots,1\nmakng,5%\n"
         "short_cost,EUR five\nspare_worth,-1\nlearn_from,.\ntitle,again\nvalid_for,soon\nready_in,0 "
         "weeks\ntax_shown,x\n",
         0},
        {"grade.csv", "name,unit,S,M,XL,print\nwidth,stone,40,44,48,maybe\nwidth,,1,2,\nwidht,,x,2 (3),3-Feb\n", 0},
        {"yarns.csv",
         "role,yarn,put_up,length,colour,price,category,wpi,fibre\nmain,Quay DK,0 g,120 m,Slate,five,12,-3,\"60% wool, "
         "60% silk\"\n"
         "lace,Quay DK,25 oz g,210,Slate,7.123,x,many,fluff\nmain,,50 g,120 m,,,,,\nmain x2,Quay,50 g,120 km,,USD "
         "4,,,woll\n",
         0},
        {"fabrics.csv",
         "fabric,row,make\npairs,1,\"tch 1, *sc 2\"\npairs,1,\"tch 1, *scc*, (dc 2\"\npairs,3,\"3 sc 3, in 2\"\nsingle "
         "crochet,set-up,\"dc2tog in each 2, rep\"\n"
         ",2,sc\npairs,x,\"bean stitch 3, treble, cut 3\"\n",
         0},
        {"swatches.csv",
         "swatch,yarn,tool,fabric,stitches,rows,start,gauge,width,height,weight,scale_step,unravelled,tape_step,ends,"
         "minutes,print,gauge_as\n"
         "plain,mian,J-99,single crotchet,20.5,-20,knot,20 x,10,x,nine,0 g,21,1 cm,two,1:30,maybe,plane\nplain,main,4 "
         "mm,single "
         "crochet,10^13,20,,18-Sep,,,,,,,,,yes,plain\n"
         "odd,main + lace,\"4,mm\",single crochet,20,20,,,,,90 kg,10 g,,,,,yes,\n",
         0},
        {"pieces.csv",
         "piece,part,fabric,yarn,tool,stitches,rows,end_stitches,times,start,ends,carry,note,colur\n"
         "strip,,single crochet,main 2 lace,4 mm,wdth,10,,1000000000000000,egde,-1,yup,,\n,,single crochet,main,4,20 "
         "(30),\"(71)\",12 kg,,,,,,\n"
         "strip,,pairs,main +,5 mm (H-8),20,,,,continue,,,,\nstrip,x,moss,\"main 0, lace\",4.03 mm,20 cm,10 "
         "cm,,,,,,,\n",
         0},
        {"offers.csv", "role,shop,put_up,price\nmain,Mole,50 g,x\nmian,own,50 g,6\nmain,Mole,50 g,6; from 5\n", 0},
        {"shops.csv", "shop,postage,off_percent,ok\nMole,x,0.5,unusul\nown,1,,range\nmole,2,,unusual\n", 0},
        {"costs.csv",
         "item,kind,amount,quantity,per,print\na,moon,1,,\ng,fee,5%,,,no\nb,tax,5%,2,\nc,labour,0,,\nd,labour,14,,"
         "kit\ne,overhead,5,,all\nf,"
         "material,1,widht,\n",
         0},
        {"progress.csv",
         "size,piece,part,rows,weight,yarn,of,scale_step\nXM,bakc,,,9 g,,,\nS,strip 9,cuf,0,20,angora,over,0 "
         "g\nS,all,x,3,,lace,left,\n",
         0},
        {"testers.csv",
         "tester,size,yarn,gauge,used\nAda,XM,main,,9 g\nAda,S,angora,15,9\nAda,S,,,90 m\nAda,S,,,9 g\nada,S,,,9 g\n",
         0},
        {NULL, NULL, 0}};
    struct texts host = {.files = files};
    assert_int_equal(fail_in_folder(texts_source(&host), *state), 0);
}

/* Mistakes that only counting finds: widths that do not fit, and the hints for them. */
static void a_folder_that_does_not_add_up_notices_every_failure(void **state)
{
    static const struct memory_file files[] = {
        {"project.csv", "field,value\nsizes,\"S (M, L)\"\n", 0},
        {"yarns.csv", "role,yarn,put_up,length\nmain,Quay DK,50 g,120 m\n", 0},
        {"fabrics.csv",
         "fabric,row,make\nthrees,1,\"tch 1, *sc 3*\"\nthrees,2,\"tch 1, *sc 2, sk 2*\"\ngrow,1,\"tch 1, *900 sc in "
         "1*\"\nset,set-up,\"tch 1, *sc 3*\"\n"
         "set,1,\"tch 1, sc 7\"\nlost,1,\"tch 1, *ch 1*\"\n",
         0},
        {"swatches.csv",
         "swatch,yarn,tool,fabric,stitches,rows,weight,width,height\nplain,main,4 mm,threes,20,20,9 g,10 cm,10 cm\n",
         0},
        {"pieces.csv",
         "piece,part,fabric,yarn,tool,stitches,rows,end_stitches,start\nstrip,a,threes,main,4 mm,\"20 (21, "
         "22)\",10,,\nstrip,b,threes,main,4 mm,30,2,,continue\n"
         "strip,c,single crochet,main,4 mm,40 cm,10,,chain\ncircle,,single crochet circle,main,4 "
         "mm,7,3,,ring\ngrow,,grow,main,4 mm,900,60,,chain\n"
         "set,,set,main,4 mm,9,3,,chain\nlost,,lost,main,4 mm,9,3,,chain\ntaper,,set,main,4 "
         "mm,9,3,20,chain\nedge,,threes,main,4 mm,10,3,,edge\n",
         0},
        {NULL, NULL, 0}};
    struct texts host = {.files = files};
    assert_int_equal(fail_in_folder(texts_source(&host), *state), 1);
}

/* Lines that continue others, and shaping; then mistakes in both. */
static void folders_of_lines_on_other_work_notice_every_failure(void **state)
{
    static const char pieces[] = "piece,part,fabric,yarn,tool,stitches,rows,end_stitches,times,start,on,every\n";
    static const char *const lines[] = {
        "band,,pairs,main,4 mm,,2,,,,3 for 4 rows of front + each row end of all pockets,\n"
        "yoke,,single crochet,main,4 mm,\"20 (24, 28)\",5,,,,,inc 4 every other row\n"
        "body,,single crochet,main,4 mm,,3,,,,rest of yoke + 2 x 3 ch + foundation of yoke,\n"
        "sleeve,,single crochet,main,4 mm,,,\"5 (5, 6)\",2,,\"7 (7, 8) of yoke\",2 sts every 2 and 3 rows\n"
        "front,hem,single crochet,main,4 mm,8,4,,,,,\nfront,,single crochet,main,4 mm,,4,,,,,\n"
        "pocket,,single crochet,main,4 mm,4,4,,2,,,\nflap,,single crochet,main,4 mm,,1,,,,3 of front,\n",
        "yoke,,single crochet,main,4 mm,20,5,,,,,2 every row\nbody,,single crochet,main,4 mm,5,3,,,,rest of yoke + 1 co + x,\n"
        "a,,single crochet,main,4 mm,,3,,,,stitches of b,\nb,,single crochet,main,4 mm,,3,,,,each row end of a/x,dec\n"
        "c,x,single crochet,main,4 mm,,3,,,,each row end of d,\nd,x,single crochet,main,4 mm,,3,,,,each row end of x + 2 of c + 3 of yolk,\n",
        "yoke,,single crochet,main,4 mm,20,5,,,,,dec 30 every row\nbody,,single crochet,main,4 mm,5,3,,,,8 of front + 1 ch,\n"
        "front,,single crochet,main,4 mm,\"20 (21, 22)\",3,30,,,,4 every 2 rows\nback,,pairs,main,4 mm,,3,,,,23 of front + 2 of yoke,\n",
        "yoke,,single crochet,main,4 mm,20,5,,2,,,\na,,single crochet,main,4 mm,,5,,2,,15 of yoke,\n"
        "b,,single crochet,main,4 mm,,5,,2,,15 of yoke + rest of yoke + foundation of a,\n"};
    static const size_t made[] = {13, 0, 1, 1};
    for (size_t i = 0; i < sizeof lines / sizeof lines[0]; i++) {
        char text[2048];
        snprintf(text, sizeof text, "%s%s", pieces, lines[i]);
        const struct memory_file files[] = {
            {"project.csv", "field,value\nsizes,\"S (M, L)\"\n", 0},
            {"yarns.csv", "role,yarn,put_up,length\nmain,Quay DK,50 g,120 m\n", 0},
            {"fabrics.csv", "fabric,row,make\npairs,1,\"tch 1, *sc 2*\"\n", 0},
            {"pieces.csv", text, 0},
            {NULL, NULL, 0}};
        struct texts host = {.files = files};
        assert_int_equal(fail_in_folder(texts_source(&host), *state), made[i]);
    }
}

/* A written pattern with every feature, beside pieces.csv, and one with mistakes. */
static const char written_good[] =
    "Quay throw\n\nNOTES\nshell = 5 dc in same st. V-stitch (V-st): (dc, ch 1, dc) in same st or sp.\nch 2 does not "
    "count as a st.\n\n"
    "Moss st:\nRow 1: *K1, p1; rep from * to end.\nRow 2: *P1, k1; rep from * to end.\n\n# Body (make 2)\n"
    "With main and 5 mm hook, ch 20 (22, 24), join.\nRnd 1: Ch 3, dc in each ch around, join. 20 (22, 24) dc\n"
    "Rnds 2-4 (2-5, 2-6): Rep rnd 1.\nMedium and large only: Ch 3, dc in each st around, join. Change to lace.\n"
    "Next rnd: Follow the chart. [take as 30 hdc, 6 ch] (30 sts)\nFasten off, leaving a 40 cm tail. Sew seams.\n"
    "# Cuff\nWith main and lace held together and 4 mm needles, cast on 20 sts.\nRow 1 (RS): K.\nRow 2 and all WS "
    "rows: P.\nRow 3: K.\n"
    "ok: unusual, untaken\nRow 5: K.\nWork even for 4 rows.\nDec 1 st each end of next and every 4th row 2 more times.\n"
    "Bind off 2 sts at beg of next 2 rows.\nRep last 2 rows twice.\n"
    "Work in moss st for 4 rows.\nWork even for 4 rows.\nWork in stockinette until piece measures 20 cm, "
    "ending with a WS row.\n"
    "NECK\nRow 1: K.\n# Second cuff\nWork as cuff, reversing shaping.\n";
static const char written_bad[] = "# Body\nWith main and trim, ch 20 (22).\nRow 1: Sc in each st across. (20 (22, 24) "
                                  "sts)\nRow 2: Work the chart. (24 sts)\nRow 3: Sc acros.\n"
                                  "Sizes M and XL only: sc.\n# Cuff\nWith 5 mm hook, ch 21.\nRow 1: Sc in 2nd ch from "
                                  "hook and in each ch across. (19 sc)\nRow 2: Follow. (24 sts)\n"
                                  "Rows 3-4: Sc in each st. (24 sts)\nRep row 99.\n# Hem\nch 11.\nRow 1: Dc in 4th ch "
                                  "from hook and in each ch across. (8 dc)\nRow 3: Ch 3, dc across. [take as scc]\n"
                                  "Dec 1 st each end of next and every 4th row 6 times.\nWork in no such st for 5 "
                                  "cm.\nChange to smaller hook.\nRow 5: Sc.\nSew.\n";

/* Beginnings, counts and limits in other words. */
static const char written_other[] = "# Legs (make 2 (3, 4))\nCh 20 using 4 mm hook and lace.\nRow 1: Sc in 2nd ch from "
                                    "hook and in each ch across, turn. Sew it. "
                                    "Then rest.\nEdging: Ch 1, sc in each st across, turn. (19 sc)\nSize L only: Ch 1, "
                                    "sc in each st across, cut 20 cm, turn.\n"
                                    "# Legs (make 2 (3))\nRow 1: Ch 20 (22), sc in 2nd ch from hook. [take as 19 sc] "
                                    "(19 sc) (18)\nRow 2 (3): Rep row 1.\n";

static void a_written_pattern_notices_every_failure(void **state)
{
    const struct memory_file good[] = {
        {"project.csv", "field,value\nsizes,\"S (medium, L)\"\n", 0},
        {"yarns.csv", "role,yarn,put_up,length\nmain,Quay DK,50 g,120 m\nlace,Quay Lace,25 g,210 m\n", 0},
        {"swatches.csv",
         "swatch,yarn,tool,fabric,stitches,rows,gauge,weight\nplain,main,4 mm,stockinette,20,20,18 x 25,9 g\n", 0},
        {"pattern.txt", written_good, 0},
        {"pieces.csv", "piece,fabric,yarn,tool,stitches,rows\nstrip,single crochet,main,5 mm,10,10\n", 0},
        {"progress.csv", "size,piece,part,rows,weight,scale_step\nL,Cuff,,4,9 g,1 g\n", 0},
        {NULL, NULL, 0}};
    const struct memory_file bad[] = {
        {"project.csv", "field,value\nsizes,\"S (M, L)\"\n", 0},
        {"yarns.csv", "role,yarn,put_up,length\nmain,Quay DK,50 g,120 m\ntrim,Quay Lace,25 g,210 m\n", 0},
        {"pattern.txt", written_bad, 0},
        {NULL, NULL, 0}};
    const struct memory_file other[] = {{"project.csv", "field,value\nsizes,\"S (M, L)\"\n", 0},
                                        {"yarns.csv", "role,yarn,put_up,length\nlace,Quay Lace,25 g,210 m\n", 0},
                                        {"fabrics.csv", "fabric,row,make\nbars,1,*k 1*\n", 0},
                                        {"pattern.txt", written_other, 0},
                                        {NULL, NULL, 0}};
    struct texts good_host = {.files = good}, bad_host = {.files = bad}, other_host = {.files = other};
    fail_in_folder(texts_source(&other_host), *state);
    assert_true(fail_in_folder(texts_source(&good_host), *state) >= 3);
    assert_int_equal(fail_in_folder(texts_source(&bad_host), *state), 1);
    fail_in_folder(hk_source_folder(TABLES_DIR "/start-pattern"), *state);
}

/*
 * Rows by reference, shaping, stitch patterns, pieces like others, interpretations chosen; the counts of the second
 * differ.
 */
static void a_proof_notices_every_failure(void **state)
{
    static const char *const texts[] = {
        "Plain st:\nRow 1: K.\nRow 2 and all WS rows: P.\nRow 3: Rep row 1.\n\n# Body\nWith main and 5 mm needles, "
        "cast on 20 "
        "sts.\nRow 1: K.\nRows 2 and 4: P.\nRow 3: K2tog, k to last 2 sts, ssk. (18 sts)\nRow 5: K.\nWork in plain st "
        "for 3 "
        "rows.\nWork even for 2 rows.\nDec 1 st each end of next and every alt row 2 more times. (12 sts)\nBind off 2 "
        "sts at beg "
        "of next 2 rows.\nRows 20-22: Follow the chart. [take as 60 k] (60 sts)\nRep last 2 rows.\n# Back\nWork as "
        "body. (60 "
        "sts)\n",
        "# Tube\nWith main and 5 mm hook, ch 20, join.\nRnd 1: Ch 1, *sc in each ch to last ch, sc in last ch; rep "
        "from * once, "
        "join. (21 sc)\nRnds 2-3: Rep rnd 1.\nRnd 4: Ch 2, dc in each st around, ch 2, join. (19 sts, 1 ch-2 sp)\nWork "
        "in "
        "half double crochet for 2 rnds.\nInc 1 st each end of next rnd.\nNext 9 rnds: Dec 1 st each end of every 3rd "
        "rnd 2 times. (18 sts)\nWork even for 2 rnds.\nDec 1 st each end of every rnd 20 times. (20 sts)\nRep rnd 99. "
        "(20 sts)\nWork in no "
        "such st for 3 rows. (20 sts)\nRnd 20: *Sc in next 7 sts; rep from * around. (9 sts)\n# Band\nOn an edge of 20 "
        "foos:\nRow "
        "1: Sc.\n",
        "NOTES\nStripes: 1 row trim, 2 rows main.\n# Front\nWith main and 5 mm hook, ch 5.\nRow 1: Sc in 2nd ch from hook and in "
        "each ch across.\nDec row: Sc2tog, sc in each st across.\nRep dec row 1 more time.\nBack: Work as front, reversing "
        "shaping.\n",
        "# Front\nWith main and 5 mm hook, ch 5.\nRow 1: Sc in 2nd ch from hook and in each ch across.\nInc 2 sts evenly.\nWork even "
        "for 2 rows, at the same time inc 1 st each end of every alt row 1 time.\n",
        "# Front\nWith main and 5 mm needles, cast on 9 sts.\nRow 1: K.\nRow 2: P.\nBind off 2 sts at beg of next row, then 1 st at beg "
        "of next row.\nStripes: 1 row main, 1 row trim.\nRow 5: Chart. [take as 6 k]\n",
        "# Hat\nWith main and 5 mm hook, ch 4, join.\nRnd 1: *Sc in next st with main, sc in next st with trim; rep from * around.\n"
        "Rnds 2-4: Rep rnd 1.\nStripes: 1 (2) rows main, 1 row trim.\nWith trim, rep rnds 1 and 9.\nDec 9 sts evenly. (4 sts)\n",
        "# Front\nWith main and 5 mm hook, ch 9.\nRow 1: Sc in 2nd ch from hook and in each ch across, turn.\nRow 2: With trim, sc in "
        "each st across.\nStripes: 1 row main, 1 row red.\nWork in stripes for 2 rows. (4 sts)\nDec 1 st at end of every 2nd and 4th "
        "row alternately 3 times, at the same time shape it.\n"};
    for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++) {
        const struct memory_file files[] = {
            {"project.csv", "field,value\nsizes,\"S (M)\"\n", 0},
            {"yarns.csv", "role,yarn,put_up,length\nmain,Quay DK,50 g,120 m\ntrim,Quay Lace,25 g,210 m\n", 0},
            {"pattern.txt", texts[i], 0},
            {NULL, NULL, 0}};
        struct texts host = {.files = files};
        assert_true(fail_in_folder(texts_source(&host), *state) >= 1);
    }
}

/* Numbers, omitted rows, terms, unchanged text; the second has joined lines. */
static void a_pattern_printed_again_notices_every_failure(void **state)
{
    static const char *const texts[] = {
        "Sizes S (M)\n\nBODY\nWith main and 5 mm hook, ch 21 (23). 20 (22, 24) g, a treble, dc (UK tr).\nRow 1: Sc in 2nd ch from "
        "hook and in each ch across, turn. 20 (22) sc\nRow 2: Ch 1, sc in next 2 (0) sts, skip 1 st, hdc in each sc across.\nRows "
        "3-3 (3-5): Ch 1, sc in each st across, turn.\nSize S only: Ch 1, sc in each st across.\nFollow the chart in dc.\nRep last "
        "row 2 (1) more times.\n",
        "# Body\nWith main and 5 mm hook, ch 21 (23), and turn the work; hold it up to the light\nRow 1: Sc in 2nd ch from hook and "
        "in each ch across,\nturn. 20 (22) sc\n"};
    for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++) {
        const struct memory_file files[] = {{"project.csv", "field,value\nsizes,\"S (M)\"\n", 0},
                                            {"yarns.csv", "role,yarn,put_up,length\nmain,Quay DK,50 g,120 m\n", 0},
                                            {"pattern.txt", texts[i], 0},
                                            {NULL, NULL, 0}};
        struct texts host = {.files = files};
        struct hk_source source = texts_source(&host);
        struct stages s = {.source = &source, .catalogue = *state};
        s.project = make_project(&s, &(struct hk_diags){0});
        assert_non_null(s.project);
        release(&reprint_stage, make_each(&reprint_stage, &s));
        assert_int_equal(s.made, 1);
        release(&project_stage, s.project);
    }
}

/* Work that divides, is held and resumed, or is worked along the edges of other work; the last three have mistakes. */
static const char *const divided[] = {
    "# Yoke\nWith main and 5 mm hook, ch 40, join with sl st to form a ring.\nRnd 1: Ch 1, sc in each ch around, join. "
    "40 (40) sc\n"
    "Divide: Ch 1, sc in next 10 sts, sk next 10 sts for sleeve, ch 2, sc in next 10 sts, sk next 10 sts for sleeve, "
    "ch 2, join. 20 "
    "sc, 4 chs\n# Body\nRnd 1: Ch 1, sc in each sc and in each ch around, join. 24 sc\n# Sleeves (make 2)\nWith main "
    "and 5 mm hook,\n"
    "Rnd 1: Join yarn with sl st in first skipped st of yoke, ch 1, sc in same st and in next 9 sts, join. 10 sc\n"
    "Rnd 2: Ch 1, sc in each st around, join. 10 sc\n",
    "# Back\nWith main and 5 mm hook, ch 21 (25).\nRow 1: Sc in 2nd ch from hook and in each ch across, turn. 20 (24) "
    "sc\n"
    "First shoulder:\nRow 2: Ch 1, sc in first 5 (6) sts, turn. 5 (6) sc\nRow 3: Ch 1, sc in each sc across. Fasten "
    "off.\n"
    "Second shoulder:\nRow 2: Sk next 10 (12) sts for neck, attach new ball in next st, ch 1, sc in same st, sc in "
    "each st to end, "
    "turn. 5 (6) sc\nFasten off.\n# Band\nJoin main at bottom corner of back.\nRow 1: Ch 1, sc in each row end, "
    "skipping every 4th "
    "row end, turn.\nRow 2: Ch 1, 2 sc in first st, sc in each st across, ch 2, sc in each foundation ch of back, "
    "turn.\n# Frill\n"
    "Row 1: Join trim in first skipped st of back, ch 1, sc in same st and in each st across, sl st in next 2 sts of "
    "band, "
    "turn.\n",
    "# Sock\nWith main and 5 mm needles, cast on 40 (44) sts, join.\nRnds 1-3: *K2, p2; rep from * around. 40 (44) "
    "sts\nHeel flap:\n"
    "Row 1: K20 (22), turn, leaving rem sts on hold. 20 (22) sts\nRow 2: P. 20 (22) sts\nRows 3-4: Rep rows 1 and 2 "
    "once.\nGusset:\n"
    "Rnd 1: K across 20 (22) heel sts, pick up and knit 10 sts along side of heel flap, k across 20 (22) held instep "
    "sts, pick up and "
    "knit 10 sts along other side of heel flap. 60 (64) sts\nRnd 2: K1, place next 6 sts on waste yarn for thumb, cast "
    "on 6 sts, k to "
    "end.\n# Thumb\nSlip 6 held thumb sts to needles.\nRnd 1: K6. 6 sts\n# Flap\nWith main and 5 mm needles, pick up "
    "and knit 3 sts "
    "for every 4 rows along heel flap.\nRow 1: K.\nBind off.\n",
    "# Front\nWith main and 5 mm needles, cast on 20 sts.\nRow 1: K. 20 (20) sts\nRow 2: K5, bind off center 10 sts, k "
    "to end. 10 sts\n"
    "Working on first 5 sts only:\nRow 3: K. 5 sts\nBind off.\nWith RS facing, rejoin yarn to rem sts, bind off 1 st, "
    "k to end. 4 sts\n"
    "# Motif (make 3)\nWith trim and 5 mm hook, ch 4, join.\nRnd 1: Ch 1, 12 sc in ring, join. 12 sc\n# Border\nJoin "
    "trim.\nRow 1: *Sc "
    "in next 4 sts of motif, ch 2; rep from * 2 more times, turn. 12 sc\nRow 2: Ch 1, sc in each st of all motifs, "
    "turn.\n",
    "# Body\nWith main and 5 mm hook, ch 21.\nRow 1: Sc in 2nd ch from hook and in each ch across, turn. 20 (20) "
    "sc\nRibbing:\n"
    "Row 1: Ch 7, sc in 2nd ch from hook and in each ch across, sl st in next 2 sts of body, turn. 6 sc\n"
    "Row 2: Sk 2 sl sts, sc in blo of next 6 sc, turn. 6 sc\nRow 3: Ch 1, sc in blo of next 6 sc, sl st in next 2 sts "
    "of body, turn. "
    "6 sc\nRep rows 2 and 3 until all sts of body are worked.\n",
    "# Yoke\nWith main and 5 mm hook, ch 40, join.\nRnd 1: Ch 1, sc in each ch around, join. 40 (40) sc\nDivide: Ch 1, "
    "sc in next 10 "
    "sts, sk next 10 (11) sts for sleeve, sc in next 10 sts, sk next 10 sts for arm, ch 3, join. 22 sc\n# Sleeves "
    "(make 3)\n"
    "Join yarn.\nRnd 1: Ch 1, sc in each underarm ch, sc in each skipped st, join. 20 sc\n# Band\nRow 1: Sc in each "
    "row end of flap, "
    "sc in next 4 sts of yolk.\n# Flap\nRow 1: Sc in each st of band.\nRow 2: Sc in each row end of yoke.\n",
    "# Yoke\nWith main and 5 mm needles, cast on 50 (54) sts.\nRow 1 (RS): K. 50 (54) sts\nRow 2: K8 (9), place next "
    "10 (11) sts on hold "
    "for sleeve, k14, place next 9 (11) sts on hold for sleeve, k9 (9). 31 (32) sts\n# Sleeves (make 2)\nWork on the "
    "10 (11) held "
    "sts.\nRow 1: K. 10 (11) sts\n# Back\nWith main and 5 mm needles, cast on 40 sts.\nRow 1: K12 (14), bind off "
    "center 18 sts, k to "
    "end.\nWorking both sides at once, work 4 rows.\nBind off.\nRow 5: K.\n",
};

static void work_that_divides_notices_every_failure(void **state)
{
    edges_fail = true;
    for (size_t i = 0; i < sizeof divided / sizeof divided[0]; i++) {
        const struct memory_file files[] = {
            {"project.csv", "field,value\nsizes,\"S (M)\"\n", 0},
            {"yarns.csv", "role,yarn,put_up,length\nmain,Quay DK,50 g,120 m\ntrim,Quay Lace,25 g,210 m\n", 0},
            {"pattern.txt", divided[i], 0},
            {NULL, NULL, 0}};
        struct texts host = {.files = files};
        struct hk_source source = texts_source(&host);
        struct stages s = {.source = &source, .catalogue = *state};
        s.project = make_each(&project_stage, &s);
        assert_non_null(s.project);
        release(&tally_stage, make_each(&tally_stage, &s));
        release(&reprint_stage, make_each(&reprint_stage, &s));
        release(&project_stage, s.project);
    }
    edges_fail = false;
}

static void settings_from_a_text_notice_every_failure(void **state)
{
    static const char *const texts[] = {written_good,
                                        "Sizes: XS (S, M)\nMC: Quay DK (50 g / 120 m), 5 balls\nA - Wool, 50g = 105 "
                                        "metres\n5 mm hook\n15 sts and 11 rows to 10 cm in hdc\n",
                                        "Quay collar\nSizes: S, M and L\nQuay DK (50 g / 120 m): MC grey\nWith MC, "
                                        "ch 20 (22, 24), 3 (4, 5).\n16 sts and 20 rows to 10 cm in st st\n"};
    for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++) {
        const struct memory_file files[] = {{"mine.txt", texts[i], 0}, {NULL, NULL, 0}};
        struct texts host = {.files = files};
        struct hk_source source = texts_source(&host);
        release(&settings_stage, make_each(&settings_stage, &(struct stages){.source = &source, .catalogue = *state}));
    }
}

/* Every kind of step, places left and revisited, long rows, two interpretations; then mistakes. */
static void rows_notice_every_failure(void **state)
{
    static const char *const worked[] = {
        "Sc in 2nd ch from hook and in each ch across, turn (123)",
        "Ch 1, *sc in next st, ch 1, sk next st; rep from *, sc in last st, turn",
        "Ch 1, sc in each sc and each ch-1 sp across, ch 3, turn (123 sc)",
        "*Dc in next 2 sts, ** sk next st, dc in skipped st; rep from * across, ending last rep at **; turn",
        "Sl st in next 3 sts, ch 1, [sc in next 4 sts, (dc, ch 2, dc) in next st] 6 (12) times, leave rem sts "
        "unworked, turn",
        "With B, ch 3, place next 4 sts on hold for left sleeve, dc in next 5 sts, k 1, pm, yo, cut 20 cm x 3, turn. "
        "10 (12) sts",
        "Tch 3 as dc, *sc in next st*, inc in last st, turn - 8 (9)",
        NULL};
    static const char *const shaped[] = {
        "Sc in 2nd ch from hook and in each ch across, turn",
        "Ch 1, *sc in next st, dc in next st; rep from * to last st, sc in last st, ch 6, turn",
        "Dc in 4th ch from hook and in next 2 ch, dc in each st across, turn. 127 sts",
        "Sl st in next 3 sts, ch 1, sc in next 20 sts, leave rem sts unworked, turn",
        "Ch 1, 2 sc in next st 3 times, (dc, ch 1) in next st 2 (3) times, [sc in next st] 2 (3) more times, sc2tog "
        "over "
        "next 2 (4) sts, turn",
        "Sl st to next ch-1 sp, ch 3, (2 dc, ch 1, 2 dc) 2 times in same sp, sc in each st and each ch-1 sp to end, "
        "turn",
        "Sc dec, sk next st, with B, hdc in skipped st, place next 2 sts on hold, tch 1 as ch 1, hdc in next st, turn, "
        "sc 3 "
        "(4)",
        NULL};
    static const char *const around[] = {
        "Sc in 2nd ch from hook and in each ch to end, working along other side, sc in each ch to end, join",
        "Sl st in next 2 sts, ch 3, dc in next 9 sts, (dc, ch 3, sl st in 3rd ch from hook) in each of next 3 sts, dc "
        "around, join",
        "Join with sl st in last st, ch 1, sc in each st around, join with sl st to first sc", NULL};
    static const char *const mistaken[] = {
        "Sc in next 3 sts, treblle in each st, (dc, *ch 1; rep from * 1/2 times, cut 3, dc 2 (3, 4)", NULL};
    struct hk_arena arena = {0};
    struct stages s = {.catalogue = *state, .rows = worked, .arena = &arena};
    edges_fail = true;
    release(&rows_stage, make_each(&rows_stage, &s));
    s.rows = shaped;
    release(&rows_stage, make_each(&rows_stage, &s));
    s.rows = around;
    release(&rows_stage, make_each(&rows_stage, &s));
    edges_fail = false;
    s.rows = mistaken;
    assert_null(make_each(&rows_stage, &s));
    assert_int_equal(s.made, 3);
}

/* Each form of a reference that allocates, and places and counts that allocate. */
static void words_of_rows_notice_every_failure(void **state)
{
    static const char *const references[] = {"Rep rows 1-3 and 5, 2 (3, 4) more times",
                                             "Work even in sc until piece measures 20 (22, 24) cm",
                                             "Work in moss stitch for 6 rows",
                                             "Dec 1 st each end of next and every 4th row 2 times in all",
                                             "Bind off 4 (5, 6) sts at beg of next 2 rows",
                                             "Work as left front, reversing shaping",
                                             NULL};
    static const char *const rows[] = {
        "Sc in each sc and each ch-1 sp to next ch-2 sp, sc in all 12 (14, 16) sts, sc to last 2 sts. 12 (14, 16) sts",
        "Sc to last 2 dc before ch-2 sp (12, 14, 16)", "Sc across (12 each front, 8 each sleeve, 24 back)",
        "Sc across (1 sc, 2 sc, 3 sc, 4 sc, 5 sc, 6 sc, 7 sc, 8 sc, 9 sc)", NULL};
    struct hk_arena arena = {0};
    struct stages s = {.catalogue = *state, .rows = references, .words = rows, .arena = &arena};
    release(&words_stage, make_each(&words_stage, &s));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(rows_notice_every_failure),
        cmocka_unit_test(a_table_notices_every_failure),
        cmocka_unit_test(the_shipped_tables_notice_every_failure),
        cmocka_unit_test(every_stage_of_a_folder_notices_every_failure),
        cmocka_unit_test(words_to_convert_notice_every_failure),
        cmocka_unit_test(a_folder_of_every_kind_notices_every_failure),
        cmocka_unit_test(a_schematic_notices_every_failure),
        cmocka_unit_test(a_folder_of_few_rows_a_ball_notices_every_failure),
        cmocka_unit_test(work_in_hand_notices_every_failure),
        cmocka_unit_test(a_folder_of_mistakes_notices_every_failure),
        cmocka_unit_test(a_folder_that_does_not_add_up_notices_every_failure),
        cmocka_unit_test(folders_of_lines_on_other_work_notice_every_failure),
        cmocka_unit_test(a_written_pattern_notices_every_failure),
        cmocka_unit_test(a_proof_notices_every_failure),
        cmocka_unit_test(a_pattern_printed_again_notices_every_failure),
        cmocka_unit_test(work_that_divides_notices_every_failure),
        cmocka_unit_test(settings_from_a_text_notice_every_failure),
        cmocka_unit_test(words_of_rows_notice_every_failure),
    };
    return cmocka_run_group_tests_name("memory", tests, catalogue_set_up, catalogue_tear_down);
}
