/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shaping at the ends of some rows, with rows of their stitches between them; and which stitches these are. */
#include "pattern/proof_run.h"

#include <inttypes.h>
#include <stdio.h>

/* ---- Plain rows ---- */

bool hk_proof_planned_words(struct proof_run *run, const char *words, struct planned_row *planned)
{
    const struct hk_row *row = hk_proof_words(run->p, words, &hk_proof_entry_at(run)->text);
    *planned = (struct planned_row){row, run->held, false};
    return row != NULL;
}

bool hk_proof_plain_words(struct proof_run *run, size_t stitch, struct planned_row *planned)
{
    const struct hk_stitch *s = &run->w->words.catalogue->stitches[stitch];
    const char *name = hk_proof_stitch(run->p, stitch);
    const char *words = hk_arena_print(run->p->arena, s->family == HK_KNIT ? "%s to end" : "%s in each st", name);
    if (!words)
        hk_proof_lose(run);
    return words && hk_proof_planned_words(run, words, planned);
}

bool hk_proof_plain_stitches(struct proof_run *run, size_t *stitches, bool *pair)
{
    const struct worked_row *last = run->log_count > 0 ? &run->log[run->log_count - 1] : NULL;
    const struct worked_row *above = run->log_count > 1 ? &run->log[run->log_count - 2] : NULL;
    *pair = !run->round && last && last->knit && above && above->knit && above->stitch != NO_STITCH;
    if (!last && run->p->needles) {
        stitches[0] = run->p->knit;
        stitches[1] = hk_proof_by_name(run, "p");
        *pair = !run->round;
        hk_proof_say(run, HK_ASSUMED, hk_proof_entry_at(run)->place,
                     *pair ? "no row is above it: knit and purl rows in turn are taken"
                           : "no row is above it: knit rounds are taken",
                     NULL);
        return true;
    }
    if (!last || last->stitch == NO_STITCH || (last->knit && !run->round && !*pair))
        return false;
    stitches[0] = *pair ? above->stitch : last->stitch;
    stitches[1] = last->stitch;
    return true;
}

/* ---- Rows that shape ---- */

/* The words of a row that shapes at its ends; NULL: there are none for that stitch. */
static const char *shape_words(struct proof_run *run, const struct hk_reference *reference, size_t stitch)
{
    const struct hk_stitch *s = &run->w->words.catalogue->stitches[stitch];
    const char *name = hk_proof_stitch(run->p, stitch);
    bool both = reference->ends == 2, purl = s->us && s->us[0] == 'p';
    if (reference->by == -1 && s->family == HK_KNIT)
        return purl ? (both ? "p2tog, p to last 2 sts, p2tog" : "p2tog, p to end")
                    : (both ? "k2tog, k to last 2 sts, ssk" : "k2tog, k to end");
    if (reference->by == 1 && s->family == HK_KNIT)
        return purl ? (both ? "p1, M1P, p to last st, M1P, p1" : "p1, M1P, p to end")
                    : (both ? "k1, M1, k to last st, M1, k1" : "k1, M1, k to end");
    const char *us = s->us ? s->us : "";
    const char *together = hk_arena_print(run->p->arena, "%s2tog", us);
    if (!together || s->family != HK_CROCHET)
        return NULL;
    if (reference->by == 1)
        return both ? hk_arena_print(run->p->arena, "2 %s in first st, %s in each st to last st, 2 %s in last st", name,
                                     name, name)
                    : hk_arena_print(run->p->arena, "2 %s in first st, %s in each st to end", name, name);
    size_t dec = hk_proof_by_name(run, together);
    const char *dec_name = dec != NO_STITCH ? hk_proof_stitch(run->p, dec) : NULL;
    if (reference->by != -1 || !dec_name)
        return NULL;
    return both ? hk_arena_print(run->p->arena, "%s, %s in each st to last 2 sts, %s", dec_name, name, dec_name)
                : hk_arena_print(run->p->arena, "%s, %s in each st to end", dec_name, name);
}

struct shaping {
    struct planned_row even[2], shape[2]; /* by side, if `pair` */
    bool pair;
    int64_t worked;
    bool good;
};

static void shaping_row(struct proof_run *run, struct shaping *shaping, bool shapes, const struct hk_row *stated)
{
    size_t at = shaping->pair ? (size_t)(shaping->worked % 2) : 0;
    struct hk_proof_work work;
    if (!shaping->good || !hk_proof_room(run, 1))
        shaping->good = false;
    else
        shaping->good = hk_proof_work_row(run, shapes ? shaping->shape[at] : shaping->even[at], stated, &work);
    if (shaping->good)
        hk_proof_work_keep(run, &work);
    shaping->worked++;
}

static bool shaping_plan(struct proof_run *run, const struct hk_reference *reference, struct shaping *shaping)
{
    size_t stitches[2];
    if (!hk_proof_plain_stitches(run, stitches, &shaping->pair))
        return false;
    for (size_t i = 0; i < 1 + (size_t)shaping->pair; i++) {
        const char *words = shape_words(run, reference, stitches[i]);
        if (!words || !hk_proof_planned_words(run, words, &shaping->shape[i]) ||
            !hk_proof_plain_words(run, stitches[i], &shaping->even[i]))
            return false;
    }
    return true;
}

/* How often a stage that goes "to 34 sts" shapes after `shaped` rows did. False: it does not come out, which is said.
 */
static bool times_to(struct proof_run *run, const struct hk_reference *reference, int64_t to, int64_t shaped,
                     int64_t *times)
{
    int64_t now = hk_edge_count(hk_follow_edge_now(run->follow), false),
            each = (int64_t)reference->by * reference->ends;
    *times = (to - now) / each - shaped;
    if ((to - now) % each == 0 && *times >= 0)
        return true;
    char text[160];
    if (to == now)
        snprintf(text, sizeof text, "there are %" PRId64 " stitches before anything is shaped", now);
    else
        snprintf(text, sizeof text, "%" PRId64 " stitches do not become %" PRId64 " by %" PRId64 " at a time", now, to,
                 each < 0 ? -each : each);
    hk_proof_refuse(run, HK_COUNT_DIFFERS, text, "check both numbers");
    return false;
}

/* How often each stage shapes, and how many rows all take. False: it has been said what is wrong. */
static bool stages_plan(struct proof_run *run, const struct hk_reference *reference, int64_t *times, int64_t *rows)
{
    const struct hk_entry *entry = hk_proof_entry_at(run);
    bool label = entry->numbered || entry->rows_given;
    int64_t labelled = hk_entry_rows(entry, run->size), shaped = reference->first_next;
    *rows = reference->first_next;
    for (size_t s = 0; s < reference->stage_count; s++) {
        const struct hk_shape_stage *stage = &reference->stages[s];
        times[s] = hk_graded_in(stage->times, run->size);
        if (stage->open && !label) {
            hk_proof_refuse(run, HK_ROW_SYNTAX, "it does not say how often",
                            "write \"... to 34 sts\", \"... 6 times\" or \"... 6 more times\"");
            return false;
        }
        if (stage->open)
            times[s] = labelled > *rows ? (labelled - *rows) / stage->every : 0;
        else if (stage->to && !times_to(run, reference, times[s], shaped, &times[s]))
            return false;
        shaped += times[s];
        *rows += times[s] * stage->every;
    }
    if (label && *rows > labelled) {
        hk_proof_refuse(run, HK_COUNT_DIFFERS, "the shaping takes more rows than the label has", "check both numbers");
        return false;
    }
    *rows = label ? labelled : *rows;
    return true;
}

void hk_proof_shape(struct proof_run *run, const struct hk_reference *reference)
{
    const struct hk_proof_entry *parsed = &run->p->entries[run->entry];
    const struct hk_row *tail = parsed->tailed ? &parsed->tail : NULL;
    struct shaping shaping = {.good = true};
    struct hk_proof_row *kept = hk_proof_row_of(run, run->entry);
    int64_t times[HK_STAGES_MOST], rows;
    kept->from_stated = run->from_stated;
    if (!shaping_plan(run, reference, &shaping)) {
        hk_proof_refuse(run, HK_ROW_SYNTAX, "which stitches are shaped cannot be told from the rows above",
                        "write the row that shapes with its label, and \"Rep rows ...\" or \"Work even for 3 rows\"");
        return;
    }
    if (!stages_plan(run, reference, times, &rows))
        return;
    if (reference->first_next)
        shaping_row(run, &shaping, true, rows == 1 ? tail : NULL);
    for (size_t s = 0; s < reference->stage_count; s++)
        for (int64_t row = 1; row <= times[s] * reference->stages[s].every && shaping.good; row++)
            shaping_row(run, &shaping, row % reference->stages[s].every == 0, shaping.worked + 1 == rows ? tail : NULL);
    while (shaping.good && shaping.worked < rows)
        shaping_row(run, &shaping, false, shaping.worked + 1 == rows ? tail : NULL);
    kept->rows = shaping.worked;
    run->cycle = 0;
    if (!shaping.good) {
        kept->worked = false;
        hk_proof_go_on_from(run, tail);
        return;
    }
    if (shaping.worked > 0) {
        run->from_stated = false;
        hk_proof_places_keep(run, kept);
    }
}
