/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Counts all work. Lines of a piece are counted in order, since a line that continues starts on the stitches of the
 * line before in the same size. If that line could not be counted, the lines after it are skipped silently.
 */
#include "tally/tally.h"

#include "base/diags.h"
#include "project/read/pattern_file.h"
#include "tally/grading_check.h"
#include "tally/count_error.h"
#include "tally/pattern_line.h"
#include "tally/sizing.h"
#include "tally/progress.h"
#include "tally/standing.h"

#include <stdlib.h>
#include <string.h>

#define ON_EFFORT 100 /* effort of a part of a cell `on`, relative to a place followed: for lookup, sum and message */

#define NAMED_MOST 8 /* sizes named in one message */

/* Why a line could not be counted in one size. */
struct failure {
    const struct hk_work *work;
    enum hk_counting answer;
    struct hk_count_error error;
    const char *text; /* the message, without the size */
};

struct counter {
    struct hk_tally *tally;
    const struct hk_project *project;
    struct hk_foundations foundations;
    int64_t effort; /* effort left for counting */
    struct hk_diags *diags;
    struct hk_arena *arena;
    struct hk_left *left; /* [line], of the current size */
    struct hk_ledger *ledger;
    struct hk_standing *standing; /* [line * sizes + size] */
    struct hk_follow **edges;     /* [line], the edge it left in the current size; owned */
    int64_t *held;     /* [role], see struct joining; zeros between lines */
    struct failure **failures; /* [line * sizes + size]; NULL: none */
    unsigned *others;          /* [line]: conventions whose unusual reading has been reported */
};

/* ---- Stripes into uses --------------------------------------------------------------------------------------- */

/*
 * Adds two lists that ascend by stitch, into the ascending list `to`, which has room for all; it may be `a` if that has
 * all kinds of `b`. Returns the number of kinds.
 */
static size_t kinds_merge(struct hk_kinds a, struct hk_kinds b, struct hk_kind *to)
{
    size_t i = 0, j = 0, count = 0;
    while (i < a.count || j < b.count) {
        bool first = j == b.count || (i < a.count && a.kinds[i].stitch <= b.kinds[j].stitch);
        struct hk_kind kind = first ? a.kinds[i++] : b.kinds[j++];
        if (first && j < b.count && b.kinds[j].stitch == kind.stitch)
            kind.count += b.kinds[j++].count;
        if (to)
            to[count] = kind;
        count++;
    }
    return count;
}

static bool kinds_add(struct hk_kinds *sum, struct hk_kinds more, struct hk_arena *arena)
{
    size_t count = kinds_merge(*sum, more, NULL);
    struct hk_kind *to = count == sum->count ? sum->kinds : hk_arena_take(arena, count, sizeof *to);
    if (!to && count > 0)
        return false;
    kinds_merge(*sum, more, to);
    *sum = (struct hk_kinds){to, count};
    return true;
}

static bool longest_add(struct hk_use *use, const struct hk_stripe_count *stripe, struct hk_arena *arena)
{
    for (size_t i = 0; i < stripe->longest_count; i++) {
        struct hk_kinds *grown =
            hk_arena_grow(arena, use->longest, use->longest_count, &use->longest_capacity, sizeof *grown);
        if (!grown)
            return false;
        use->longest = grown;
        use->longest[use->longest_count++] = stripe->longest[i];
    }
    return true;
}

/*
 * Returns the share of a strand's copies that are not in the combination before (may be NULL): 1/2 for "main x2" after
 * "main".
 */
static double strand_new(const struct hk_strand *strand, const struct hk_combination *before)
{
    int64_t had = 0;
    for (size_t i = 0; before && i < before->strand_count; i++) {
        if (before->strands[i].role == strand->role && before->strands[i].yarn == strand->yarn)
            had = before->strands[i].times;
    }
    return hk_strand_new(strand, had);
}

/* The ends of a part: at its start, for each strand of the first stripe, and at each colour change. */
struct joining {
    bool stated, carry;
    int64_t *held;                       /* [role], if carried: the maximum of its strands in the stripes before */
    double ends;                         /* of each strand, if stated */
    const struct hk_combination *before; /* the combination at the end of the line before; NULL: none */
};

/* Returns the share of a strand that no stripe before has had. */
static double strand_first(const struct joining *joining, const struct hk_strand *strand)
{
    return hk_strand_new(strand, joining->held[strand->role]);
}

/* Adds the strands of a stripe to `held`, or with `clear` resets them. */
static void stripe_held(const struct hk_combination *combination, int64_t *held, bool clear)
{
    for (size_t i = 0; i < combination->strand_count; i++) {
        const struct hk_strand *strand = &combination->strands[i];
        if (clear || strand->times > held[strand->role])
            held[strand->role] = clear ? 0 : strand->times;
    }
}

/* Returns the ends of a strand. A carried strand is joined once, on first use; any other at each change to it. */
static double strand_ends(const struct hk_project *project, const struct hk_stripes *yarn, size_t stripe,
                          int64_t joined, const struct joining *joining, const struct hk_strand *strand)
{
    size_t before = yarn->stripes[(stripe + yarn->count - 1) % yarn->count].combination;
    double ends = 0;
    if (stripe == 0)
        ends = joining->stated ? joining->ends : HK_ENDS_OF_A_STRAND * strand_new(strand, joining->before);
    if (!joining->carry)
        ends += HK_ENDS_OF_A_STRAND * (double)joined * strand_new(strand, &project->combinations[before]);
    else if (stripe > 0)
        ends += HK_ENDS_OF_A_STRAND * strand_first(joining, strand);
    return ends;
}

static bool stripe_add(const struct counter *counter, struct hk_worked *worked, const struct hk_stripes *yarn,
                       size_t stripe, const struct hk_stripe_count *count, const struct joining *joining)
{
    size_t combination = yarn->stripes[stripe].combination;
    const struct hk_combination *of = &counter->project->combinations[combination];
    struct hk_use *use = hk_worked_use(worked, combination, counter->project, counter->arena);
    if (!use || !kinds_add(&use->kinds, count->kinds, counter->arena) || !longest_add(use, count, counter->arena))
        return false;
    use->cut_m += count->cut_m;
    for (size_t s = 0; s < of->strand_count; s++)
        use->ends[s] += strand_ends(counter->project, yarn, stripe, count->joined, joining, &of->strands[s]);
    return true;
}

/* Returns false for a stripe that a short part does not reach: it uses no yarn. */
static bool stripe_reached(size_t stripe, const struct hk_stripe_count *count)
{
    return stripe == 0 || count->joined > 0 || count->kinds.count > 0 || count->cut_m > 0;
}

static const struct hk_combination *stripe_combination(const struct counter *counter, const struct hk_stripes *yarn,
                                                       size_t stripe)
{
    return &counter->project->combinations[yarn->stripes[stripe].combination];
}

static bool worked_fill(const struct counter *counter, const struct hk_stripes *yarn, const struct hk_counted *counted,
                        const struct joining *joining, struct hk_worked *worked)
{
    worked->foundation = counted->foundation;
    worked->leaves = counted->leaves;
    worked->runs = counted->runs;
    worked->run_count = counted->run_count;
    worked->uses = hk_arena_take(counter->arena, yarn->count, sizeof *worked->uses);
    bool good = worked->uses;
    for (size_t i = 0; i < yarn->count && good; i++) {
        if (stripe_reached(i, &counted->stripes[i]))
            good = stripe_add(counter, worked, yarn, i, &counted->stripes[i], joining);
        if (joining->carry)
            stripe_held(stripe_combination(counter, yarn, i), joining->held, false);
    }
    for (size_t i = 0; i < yarn->count && joining->carry; i++)
        stripe_held(stripe_combination(counter, yarn, i), joining->held, true);
    return good;
}

/* ---- Counting ------------------------------------------------------------------------------------------------ */

/* Returns false with a finding. */
static bool count(const struct counter *counter, const struct hk_subject *subject, struct hk_counted *counted)
{
    struct hk_count_error error = {0};
    enum hk_counting answer = hk_count_part(subject->work, counted, &error, counter->arena);
    if (answer == HK_COUNTING_NO_MEMORY)
        counter->diags->out_of_memory = true;
    else if (answer != HK_COUNTING_DONE)
        hk_count_error_report(subject, answer, &error, counter->diags);
    return answer == HK_COUNTING_DONE;
}

/* Returns true when the fabric is from the project's own file. */
static bool fabric_own(const struct hk_project *project, const struct hk_fabric *fabric)
{
    for (size_t i = 0; i < project->fabric_count; i++) {
        if (fabric == &project->fabrics[i])
            return true;
    }
    return false;
}

static bool nothing_to_continue_on(const struct counter *counter, size_t line, size_t size)
{
    const struct hk_line *of = &counter->project->lines[line];
    hk_diags_add(counter->diags, HK_CODE_START, hk_line_place(of), "%s: no line before it is worked to continue on",
                 hk_line_title_in(counter->project, line, size, counter->arena));
    hk_diags_hint(counter->diags, "write chain, edge or ring as its start");
    return false;
}

static struct joining line_joining(const struct counter *counter, const struct hk_line *line, size_t size,
                                   const struct hk_left *before)
{
    struct joining joining = {.carry = line->carry, .stated = line->ends.given, .held = counter->held};
    if (line->ends.given)
        joining.ends = (double)line->ends.by_size[size].count;
    if (line->start == HK_START_CONTINUE)
        joining.before = &counter->project->combinations[before->combination];
    return joining;
}

static struct hk_length_worked length_worked(const struct hk_rounded *rounded)
{
    if (!rounded->swatch)
        return (struct hk_length_worked){.swatch = ""};
    return (struct hk_length_worked){.asked_m = rounded->asked_m, .finished_m = rounded->finished_m, .count = rounded->count,
                                     .apart = rounded->apart, .inches = rounded->inches, .swatch = rounded->swatch->name};
}

/* ---- Progress ---------------------------------------------------------------------------------------------------- */

/* The effort charged for each line of each row of progress.csv, for its memory. */
#define PROGRESS_EFFORT 32

/* Counts the first rows of a line that has been counted completely. */
static bool first_rows_count(struct counter *counter, const struct hk_subject *whole, const struct hk_stripes *yarn,
                             int64_t rows, const struct joining *joining, struct hk_worked *worked)
{
    struct hk_work work = *whole->work;
    struct hk_subject subject = *whole;
    struct hk_counted counted;
    subject.work = &work;
    work.taper_rows = work.rows;
    work.rows = rows;
    *worked = (struct hk_worked){.tool_mm = worked->tool_mm};
    if (!count(counter, &subject, &counted))
        return false;
    hk_follow_free(counted.follow);
    return worked_fill(counter, yarn, &counted, joining, worked);
}

/* Returns true when the row includes the line; its lines ascend, in the order of counting. */
static bool done_has(const struct hk_progress *progress, const struct hk_progress_work *done, size_t line)
{
    size_t i = done->count;
    while (done->rows_left > 0 && i < progress->line_count && progress->lines[i] < line)
        i++;
    return done->rows_left > 0 && i < progress->line_count && progress->lines[i] == line;
}

/*
 * Stores the work of a line; the array grows line by line, since few rows include many lines. Returns false when out of
 * memory.
 */
static bool done_keep(struct counter *counter, struct hk_progress_work *done, size_t line,
                      const struct hk_worked *worked)
{
    size_t *lines = hk_arena_grow(counter->arena, done->lines, done->count, &done->line_capacity, sizeof *lines);
    struct hk_worked *all =
        hk_arena_grow(counter->arena, done->worked, done->count, &done->worked_capacity, sizeof *all);
    if (!lines || !all)
        return false;
    done->lines = lines;
    done->worked = all;
    lines[done->count] = line;
    all[done->count++] = *worked;
    return true;
}

static bool done_add(struct counter *counter, const struct hk_subject *subject, size_t line,
                     const struct joining *joining, const struct hk_worked *whole, size_t row)
{
    const struct hk_progress *progress = &counter->project->progress[row];
    struct hk_progress_work *done = &counter->tally->progress[row];
    int64_t rows = subject->work->rows < done->rows_left ? subject->work->rows : done->rows_left;
    struct hk_worked worked = *whole;
    counter->effort -= PROGRESS_EFFORT;
    if (counter->effort < 0) {
        hk_spent_report(progress->cell, counter->diags);
        return false;
    }
    if (rows < subject->work->rows &&
        !first_rows_count(counter, subject, &counter->project->lines[line].yarn, rows, joining, &worked))
        return false;
    done->rows_left -= rows;
    worked.times = hk_progress_copies(progress, whole->times);
    return done_keep(counter, done, line, &worked);
}

/* Counts the line for every row of progress.csv that includes it in this size. */
static bool done_count(struct counter *counter, const struct hk_subject *subject, size_t line, size_t size,
                       const struct joining *joining, const struct hk_worked *whole)
{
    for (size_t row = 0; row < counter->project->progress_count; row++) {
        const struct hk_progress *progress = &counter->project->progress[row];
        if (progress->size == size && done_has(progress, &counter->tally->progress[row], line) &&
            !done_add(counter, subject, line, joining, whole, row))
            return false;
    }
    return true;
}

/* ---- Lines that could not be counted ------------------------------------------------------------------------------- */

static struct hk_subject subject_of(const struct counter *counter, size_t line, const struct hk_work *work, const char *title)
{
    const struct hk_line *of = &counter->project->lines[line];
    return (struct hk_subject){
        .title = title,
        .work = work,
        .own_fabric = fabric_own(counter->project, of->fabric),
        .stitches = of->on.count > 0 ? of->on.cell : of->stitches.cell,
        .end_stitches = of->end_stitches.cell,
        .every = of->every.cell,
    };
}

/*
 * Defers the report until all sizes are counted, so that equal failures of several sizes merge. `work` must live as
 * long as the tally. Returns false.
 */
static bool failure_keep(struct counter *counter, size_t line, size_t size, const struct hk_work *work,
                         enum hk_counting answer, const struct hk_count_error *error)
{
    counter->diags->out_of_memory |= answer == HK_COUNTING_NO_MEMORY;
    struct failure *failure = answer == HK_COUNTING_NO_MEMORY ? NULL : hk_arena_take(counter->arena, 1, sizeof *failure);
    struct hk_diags scratch = {0};
    struct hk_subject subject = subject_of(counter, line, work, "");
    if (!failure)
        return false;
    *failure = (struct failure){work, answer, *error, ""};
    hk_count_error_report(&subject, answer, error, &scratch);
    if (scratch.count > 0)
        failure->text = hk_arena_print(counter->arena, "%s", scratch.findings[0].message);
    counter->diags->out_of_memory |= scratch.out_of_memory;
    hk_diags_free(&scratch);
    if (failure->text)
        counter->failures[line * counter->project->size_count + size] = failure;
    return false;
}

/* Returns `, sizes M, L`: the sizes reported together, the first few by name. */
static const char *sizes_text(const struct counter *counter, const bool *together, size_t count)
{
    const struct hk_project *project = counter->project;
    const char *text = count > 1 ? ", sizes" : ", size";
    size_t named = 0;
    for (size_t size = 0; size < project->size_count && named < NAMED_MOST && text; size++)
        if (together[size])
            text = hk_arena_print(counter->arena, "%s%s %s", text, named++ ? "," : "", project->sizes[size]);
    if (text && count > named)
        text = hk_arena_print(counter->arena, "%s and %zu more", text, count - named);
    return text ? text : "";
}

/*
 * Reports the failure of the size together with equal failures of later sizes; names no size if these are all that have
 * the line.
 */
static void failure_report(struct counter *counter, size_t line, size_t first, bool *together)
{
    const struct hk_line *of = &counter->project->lines[line];
    size_t sizes = counter->project->size_count, worked = 0, count = 0;
    struct failure **failures = &counter->failures[line * sizes];
    const struct failure said = *failures[first];
    for (size_t size = 0; size < sizes; size++) {
        worked += !hk_line_without(of, size);
        together[size] = failures[size] && strcmp(failures[size]->text, said.text) == 0;
        if (!together[size])
            continue;
        failures[size] = NULL;
        count++;
    }
    const char *title = hk_line_title(of, counter->arena);
    if (count < worked)
        title = hk_arena_print(counter->arena, "%s%s", title, sizes_text(counter, together, count));
    struct hk_subject subject = subject_of(counter, line, said.work, title ? title : "");
    hk_count_error_report(&subject, said.answer, &said.error, counter->diags);
}

static void failures_report(struct counter *counter, size_t line)
{
    size_t sizes = counter->project->size_count;
    bool *together = hk_arena_take(counter->arena, sizes, sizeof *together);
    for (size_t size = 0; together && size < sizes; size++)
        if (counter->failures[line * sizes + size])
            failure_report(counter, line, size, together);
}

/* ---- Lines --------------------------------------------------------------------------------------------------------- */

/* Reports, once per line, the ambiguous conventions that stated counts decided in the unusual way. */
static void conventions_report(struct counter *counter, size_t line, unsigned other)
{
    const struct hk_line *of = &counter->project->lines[line];
    unsigned more = other & ~counter->others[line];
    counter->others[line] |= other;
    for (unsigned c = 0; c < HK_CONVENTIONS && !counter->project->learning; c++)
        if (more & (1u << c))
            hk_diags_add(counter->diags, HK_CODE_ASSUMPTION, hk_line_place(of),
                         "\"%s\" is worked so that %s: only then do the rows of \"%s\" agree with their stated counts",
                         of->piece, hk_convention_text((enum hk_convention)c, true), of->fabric->name);
}

/*
 * Returns true when row 1 states in which chain from the hook it begins: the chains before it are not places of the
 * other side.
 */
static bool begins_from_hook(const struct hk_fabric *fabric)
{
    const struct hk_row *row = hk_fabric_row(fabric, 0);
    for (size_t i = 0; i < row->step_count; i++)
        if (row->steps[i].where.what == HK_WHAT_NTH_CHAIN)
            return true;
    return false;
}

static int64_t other_side(const struct hk_fabric *fabric, const struct hk_counted *counted)
{
    int64_t first = counted->run_count > 0 ? counted->runs[0].stitches : 0;
    return begins_from_hook(fabric) && first < counted->foundation ? first : counted->foundation;
}

static void line_leaves(struct counter *counter, size_t line, const struct hk_left *before,
                        const struct hk_sized *sized, const struct hk_counted *counted)
{
    const struct hk_line *of = &counter->project->lines[line];
    bool continues = of->start == HK_START_CONTINUE;
    counter->left[line] = (struct hk_left){
        .state = HK_LEFT_WORKED,
        .line = line,
        .times = sized->times,
        .stitches = counted->leaves,
        .rows = sized->work.rows,
        .rows_through = sized->work.rows + (continues ? before->rows_through : 0),
        .foundation = continues ? before->foundation : other_side(of->fabric, counted),
        .edge = counted->follow,
        .combination = of->yarn.stripes[counted->last_stripe].combination,
    };
}

static bool line_sized(struct counter *counter, size_t line, size_t size, const struct hk_left *before,
                       struct hk_sized *sized)
{
    const struct hk_project *project = counter->project;
    const struct hk_on *of = &project->lines[line].on;
    bool on = of->count > 0;
    struct hk_standing standing = {0};
    counter->effort -= (int64_t)of->count * ON_EFFORT;
    if (on && counter->effort < 0) {
        hk_spent_report(of->cell, counter->diags);
        return false;
    }
    if (on && !hk_stand(counter->ledger, line, counter->left, &standing, counter->diags))
        return false;
    if (!hk_line_sized(project, line, size, before->stitches, before->edge, on ? &standing : NULL, counter->foundations,
                       &counter->effort, sized, counter->arena, counter->diags))
        return false;
    counter->standing[line * project->size_count + size] = standing;
    return true;
}

static bool line_work(struct counter *counter, size_t line, size_t size, const struct hk_left *before,
                      struct hk_sized *sized, struct hk_worked *worked)
{
    const struct hk_line *of = &counter->project->lines[line];
    if (of->start == HK_START_CONTINUE && before->state == HK_LEFT_NOTHING)
        return nothing_to_continue_on(counter, line, size);
    if (!line_sized(counter, line, size, before, sized))
        return false;
    struct hk_counted counted;
    struct hk_count_error error = {0};
    struct joining joining = line_joining(counter, of, size, before);
    enum hk_counting answer = hk_count_part(&sized->work, &counted, &error, counter->arena);
    if (answer != HK_COUNTING_DONE)
        return failure_keep(counter, line, size, &sized->work, answer, &error);
    counter->edges[line] = counted.follow;
    conventions_report(counter, line, counted.other);
    if (!worked_fill(counter, &of->yarn, &counted, &joining, worked))
        return false;
    worked->times = sized->times;
    worked->width = length_worked(&sized->width);
    worked->end_width = length_worked(&sized->end_width);
    worked->height = length_worked(&sized->height);
    line_leaves(counter, line, before, sized, &counted);
    return true;
}

/* Counts the rows of progress.csv that include a line of pattern.txt. */
static bool written_done(struct counter *counter, size_t line, size_t size, size_t before,
                         const struct hk_worked *whole)
{
    const struct hk_project *project = counter->project;
    for (size_t row = 0; row < project->progress_count; row++) {
        const struct hk_progress *progress = &project->progress[row];
        struct hk_progress_work *done = &counter->tally->progress[row];
        if (progress->size != size || !done_has(progress, done, line))
            continue;
        int64_t all = hk_pattern_line_rows(project, line, size), rows = all < done->rows_left ? all : done->rows_left;
        struct hk_worked worked = *whole;
        size_t last;
        if (rows < all) {
            worked = (struct hk_worked){.tool_mm = whole->tool_mm};
            if (!hk_pattern_line_work(project, line, size, rows, before, &worked, &last, counter->arena))
                return false;
        }
        done->rows_left -= rows;
        worked.times = hk_progress_copies(progress, whole->times);
        if (!done_keep(counter, done, line, &worked))
            return false;
    }
    return true;
}

/* Returns the combination that a line of pattern.txt continues with; SIZE_MAX if it begins. */
static size_t written_joined(const struct hk_line *line, const struct hk_left *before)
{
    bool goes_on = line->start == HK_START_CONTINUE && before->state == HK_LEFT_WORKED;
    return goes_on ? before->combination : SIZE_MAX;
}

/* Counts a line of pattern.txt, whose rows the proof has worked. */
static bool line_written(struct counter *counter, size_t line, size_t size, const struct hk_left *before,
                         struct hk_worked *worked)
{
    const struct hk_project *project = counter->project;
    const struct hk_line *of = &project->lines[line];
    size_t last;
    if (!hk_pattern_line_work(project, line, size, HK_NOT_STATED, written_joined(of, before), worked, &last,
                              counter->arena))
        return false;
    bool continues = of->start == HK_START_CONTINUE && before->state == HK_LEFT_WORKED;
    int64_t rows = hk_pattern_line_rows(project, line, size);
    worked->times = of->times.by_size[size].count;
    worked->width = worked->end_width = worked->height = (struct hk_length_worked){.swatch = ""};
    counter->left[line] = (struct hk_left){.state = HK_LEFT_WORKED,
                                           .line = line,
                                           .times = worked->times,
                                           .stitches = worked->leaves,
                                           .rows = rows,
                                           .rows_through = rows + (continues ? before->rows_through : 0),
                                           .foundation = continues ? before->foundation : worked->foundation,
                                           .combination = last};
    return true;
}

/* Returns the result of the line before it in its piece. */
static struct hk_left left_before(const struct counter *counter, size_t line)
{
    const struct hk_line *of = &counter->project->lines[line];
    const struct hk_left nothing = {0};
    return of->first ? nothing : counter->left[of->before];
}

/* Counts one line in one size. Returns false only with a finding. */
static bool line_count(struct counter *counter, size_t line, size_t size, struct hk_sized *sized)
{
    const struct hk_line *of = &counter->project->lines[line];
    struct hk_worked *worked = &counter->tally->lines[size * counter->project->line_count + line];
    struct hk_left before = left_before(counter, line);
    worked->tool_mm = of->tool_mm;
    counter->left[line] = before;
    if (hk_line_without(of, size))
        return true;
    if (of->written)
        return line_written(counter, line, size, &before, worked);
    counter->left[line] = (struct hk_left){.state = HK_LEFT_FAILED};
    if (of->start == HK_START_CONTINUE && before.state == HK_LEFT_FAILED)
        return false;
    return line_work(counter, line, size, &before, sized, worked);
}

/* Counts the rows of progress.csv for a counted line; called in the order of the file. */
static bool line_done(struct counter *counter, size_t line, size_t size, const struct hk_sized *sized)
{
    const struct hk_project *project = counter->project;
    const struct hk_line *of = &project->lines[line];
    const struct hk_worked *worked = &counter->tally->lines[size * project->line_count + line];
    struct hk_left before = left_before(counter, line);
    if (hk_line_without(of, size) || counter->left[line].state != HK_LEFT_WORKED)
        return true;
    if (of->written)
        return written_done(counter, line, size, written_joined(of, &before), worked);
    struct hk_subject subject =
        subject_of(counter, line, &sized->work, hk_line_title_in(project, line, size, counter->arena));
    struct joining joining = line_joining(counter, of, size, &before);
    return done_count(counter, &subject, line, size, &joining, worked);
}

static void size_count(struct counter *counter, size_t size, struct hk_sized *sized, bool *good)
{
    const struct hk_project *project = counter->project;
    size_t lines = project->line_count;
    hk_ledger_open(counter->ledger, size);
    for (size_t i = 0; i < lines; i++) {
        size_t line = project->order[i];
        good[line] &= line_count(counter, line, size, &sized[line * project->size_count + size]);
    }
    for (size_t line = 0; line < lines && project->progress_count > 0; line++)
        good[line] &= line_done(counter, line, size, &sized[line * project->size_count + size]);
    hk_ledger_close(counter->ledger, counter->left, counter->diags);
    for (size_t line = 0; line < lines; line++) {
        hk_follow_free(counter->edges[line]);
        counter->edges[line] = NULL;
    }
}

static bool takes_yarn(const struct hk_worked *worked)
{
    for (size_t u = 0; worked->times > 0 && u < worked->use_count; u++)
        if (worked->uses[u].kinds.count > 0 || worked->uses[u].cut_m > 0)
            return true;
    return false;
}

/* Warns of a line without yarn, usually a mistake: 0 tassels, or a row of only skipped stitches. */
static void idle_report(struct counter *counter, size_t line)
{
    const struct hk_project *project = counter->project;
    const struct hk_line *of = &project->lines[line];
    for (size_t size = 0; size < project->size_count; size++)
        if (takes_yarn(&counter->tally->lines[size * project->line_count + line]))
            return;
    const char *title = hk_line_title(of, counter->arena);
    hk_diags_add(counter->diags, HK_CODE_UNUSUAL, hk_cell_place(of->cell, 0), "%s takes no yarn in any size",
                 title ? title : "");
    hk_diags_hint(counter->diags, "check its stitches, rows and times: 0 in any of them works nothing; or take the line out");
}

/* Checks the rows of progress.csv after all lines are counted. */
static void progress_close(struct counter *counter)
{
    bool fits = true;
    for (size_t i = 0; i < counter->project->progress_count; i++)
        fits &= hk_progress_fits(&counter->project->progress[i], &counter->tally->progress[i], counter->diags);
    if (fits)
        hk_progress_settle(counter->tally, counter->diags);
}

static void lines_count(struct counter *counter)
{
    const struct hk_project *project = counter->project;
    size_t lines = project->line_count, sizes = project->size_count;
    struct hk_tally *tally = counter->tally;
    tally->lines = hk_arena_take(counter->arena, lines * sizes, sizeof *tally->lines);
    counter->left = hk_arena_take(counter->arena, lines, sizeof *counter->left);
    counter->edges = hk_arena_take(counter->arena, lines, sizeof(struct hk_follow *));
    counter->others = hk_arena_take(counter->arena, lines, sizeof *counter->others);
    counter->held = hk_arena_take(counter->arena, project->role_count, sizeof *counter->held);
    counter->ledger = hk_ledger_new(project, counter->arena);
    counter->standing = hk_arena_take(counter->arena, lines * sizes, sizeof *counter->standing);
    struct hk_sized *sized = hk_arena_take(counter->arena, lines * sizes, sizeof *sized); /* [line * sizes + size] */
    bool *good = hk_arena_take(counter->arena, lines, sizeof *good);
    counter->failures = hk_arena_take(counter->arena, lines * sizes, sizeof *counter->failures);
    size_t errors = counter->diags->errors;
    tally->progress = hk_arena_take(counter->arena, project->progress_count, sizeof *tally->progress);
    if (counter->arena->out_of_memory)
        return;
    for (size_t row = 0; row < project->progress_count; row++)
        tally->progress[row].rows_left = hk_progress_rows(&project->progress[row]);
    for (size_t line = 0; line < lines; line++)
        good[line] = true;
    for (size_t size = 0; size < sizes; size++)
        size_count(counter, size, sized, good);
    for (size_t line = 0; line < lines; line++) {
        if (project->lines[line].written)
            continue;
        if (!good[line]) {
            failures_report(counter, line);
            continue;
        }
        if (project->learning)
            continue;
        idle_report(counter, line);
        if (project->lines[line].on.count > 0)
            hk_standing_report(project, line, &counter->standing[line * sizes], counter->diags);
        hk_rounding_report(project, line, &sized[line * sizes], counter->arena, counter->diags);
        hk_grading_check_line(project, line, &sized[line * sizes], counter->arena, counter->diags);
    }
    if (!project->learning) {
        hk_ledger_report(counter->ledger, counter->diags);
        hk_grading_check_sheet(project, counter->diags);
    }
    if (counter->diags->errors == errors)
        progress_close(counter);
}

/* ---- Totals ---- */

static void totals_size(struct counter *counter, size_t size, double *counts)
{
    const struct hk_project *project = counter->project;
    struct hk_tally *tally = counter->tally;
    memset(counts, 0, project->catalogue->stitch_count * sizeof *counts);
    for (size_t line = 0; line < project->line_count; line++) {
        const struct hk_worked *worked = &tally->lines[size * project->line_count + line];
        for (size_t u = 0; u < worked->use_count; u++)
            for (size_t k = 0; k < worked->uses[u].kinds.count; k++) {
                const struct hk_kind *kind = &worked->uses[u].kinds.kinds[k];
                counts[kind->stitch] += kind->count * (double)worked->times;
            }
    }
    for (size_t i = 0; i < project->catalogue->stitch_count; i++)
        if (counts[i] >= 0.5)
            tally->totals[tally->total_count++] = (struct hk_stitch_total){
                size, hk_stitch_word(&project->catalogue->stitches[i], project->terms), (int64_t)(counts[i] + 0.5)};
}

static void totals_make(struct counter *counter)
{
    const struct hk_project *project = counter->project;
    size_t stitches = project->catalogue->stitch_count;
    double *counts = calloc(stitches, sizeof *counts);
    counter->tally->totals =
        hk_arena_take(counter->arena, project->size_count * stitches, sizeof *counter->tally->totals);
    counter->arena->out_of_memory |= !counts;
    for (size_t size = 0; counts && counter->tally->totals && size < project->size_count; size++)
        totals_size(counter, size, counts);
    free(counts);
}

static void swatch_count(struct counter *counter, size_t i)
{
    const struct hk_swatch *swatch = &counter->project->swatches[i];
    struct hk_worked *worked = &counter->tally->swatches[i];
    struct hk_work work = {
        .fabric = swatch->fabric,
        .catalogue = counter->project->catalogue,
        .start = swatch->start,
        .stitches = swatch->stitches,
        .rows = swatch->rows,
        .end_stitches = HK_NOT_STATED,
        .stripe_rows = hk_stripe_rows(&swatch->yarn, counter->arena),
        .stripe_count = swatch->yarn.count,
        .foundation_stitch = hk_foundation_stitch(counter->foundations, swatch->fabric),
        .effort = &counter->effort,
    };
    const char *title = hk_arena_print(counter->arena, "the swatch \"%s\"", swatch->name);
    if (!work.stripe_rows || !title)
        return;
    struct hk_subject subject = {.title = title,
                                 .work = &work,
                                 .own_fabric = fabric_own(counter->project, swatch->fabric),
                                 .stitches = swatch->stitches_cell,
                                 .end_stitches = swatch->stitches_cell};
    struct joining joining = {.stated = true, .ends = (double)swatch->ends};
    struct hk_counted counted;
    worked->tool_mm = swatch->tool_mm;
    if (!count(counter, &subject, &counted))
        return;
    hk_follow_free(counted.follow);
    if (worked_fill(counter, &swatch->yarn, &counted, &joining, worked))
        worked->times = swatch->copies;
}

static void learned_count(struct counter *counter)
{
    const struct hk_project *project = counter->project;
    struct hk_tally *tally = counter->tally;
    tally->learned = hk_arena_take(counter->arena, project->learned_count, sizeof *tally->learned);
    for (size_t i = 0; tally->learned && i < project->learned_count; i++)
        tally->learned[i] = hk_tally_count(project->learned[i], counter->diags);
}

struct hk_tally *hk_tally_count(const struct hk_project *project, struct hk_diags *diags)
{
    size_t errors = diags->errors;
    struct hk_tally *tally = calloc(1, sizeof *tally);
    if (!tally) {
        diags->out_of_memory = true;
        return NULL;
    }
    tally->project = project;
    hk_pattern_file_report(project, diags);
    struct counter counter = {.tally = tally,
                              .project = project,
                              .foundations = hk_foundations_find(project->catalogue),
                              .effort = HK_EFFORT_MOST,
                              .diags = diags,
                              .arena = &tally->arena};
    tally->swatches = hk_arena_take(&tally->arena, project->swatch_count, sizeof *tally->swatches);
    for (size_t i = 0; tally->swatches && i < project->swatch_count; i++)
        swatch_count(&counter, i);
    lines_count(&counter);
    if (diags->errors == errors && !tally->arena.out_of_memory)
        totals_make(&counter);
    learned_count(&counter);
    if (tally->arena.out_of_memory)
        diags->out_of_memory = true;
    if (diags->errors == errors && !diags->out_of_memory)
        return tally;
    hk_tally_free(tally);
    return NULL;
}

void hk_tally_free(struct hk_tally *tally)
{
    if (!tally)
        return;
    for (size_t i = 0; tally->learned && i < tally->project->learned_count; i++)
        hk_tally_free(tally->learned[i]);
    hk_arena_free(&tally->arena);
    free(tally);
}

/* ---- Asking -------------------------------------------------------------------------------------------------- */

static bool has_parts(const struct hk_project *project, size_t size)
{
    for (size_t l = 0; l < project->line_count; l++) {
        if (!hk_line_without(&project->lines[l], size))
            return true;
    }
    return false;
}

bool hk_tally_has_parts(const struct hk_tally *tally, size_t size, struct hk_diags *diags)
{
    const struct hk_project *project = tally->project;
    size_t from = size == HK_NO_SIZE ? 0 : size, to = size == HK_NO_SIZE ? project->size_count : size + 1, with = 0;
    const char *file = project->line_count > 0 ? hk_cell_place(project->lines[0].cell, 0).file : NULL;
    const struct hk_place whole = {file, 0, 0}, sizes = hk_cell_place(project->sizes_cell, 0);
    for (size_t s = from; s < to; s++)
        with += has_parts(project, s);
    for (size_t s = from; s < to; s++) {
        if (has_parts(project, s))
            continue;
        if (project->size_count > 1)
            hk_diags_add(diags, with > 0 ? HK_CODE_SIZE_WITHOUT : HK_CODE_SIZE_EMPTY, sizes.file ? sizes : whole,
                         "size %s has no parts", project->sizes[s]);
        else
            hk_diags_add(diags, HK_CODE_SIZE_EMPTY, whole, "the design has no parts");
        hk_diags_hint(diags, "times, stitches or rows are 0 for it in every row: write what there is%s",
                      project->size_count > 1 ? ", or ask for another size" : "");
    }
    return with > 0;
}

size_t hk_tally_lines(const struct hk_tally *tally)
{
    return tally->project->line_count;
}

const struct hk_stitch_total *hk_tally_totals(const struct hk_tally *tally, size_t *count)
{
    *count = tally->total_count;
    return tally->totals;
}

struct hk_line_count hk_tally_line(const struct hk_tally *tally, size_t line, size_t size)
{
    const struct hk_line *of = &tally->project->lines[line];
    const struct hk_worked *worked = &tally->lines[size * tally->project->line_count + line];
    return (struct hk_line_count){
        .piece = of->piece,
        .part = of->part,
        .fabric = of->fabric->name,
        .line = hk_line_place(of).line,
        .written = of->written,
        .times = worked->times,
        .foundation = worked->foundation,
        .runs = worked->runs,
        .run_count = worked->run_count,
        .width = worked->width,
        .end_width = worked->end_width,
        .height = worked->height,
    };
}
