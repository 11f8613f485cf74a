/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Hankful: how much yarn a crochet or knit design takes in every size, and what to buy.
 *
 * Data flows one way, one struct a stage, each freed by its own _free (NULL is fine):
 *
 *     hk_source -> hk_catalogue -> hk_project -> hk_tally -> hk_fit -> hk_need -> hk_shop
 *
 * A stage borrows the stages before it: free them in the reverse order; hk_design holds them from the source to the need. A stage
 * returns NULL when it failed; the findings say what and where. Stages that do not belong together are refused with a finding.
 * The library prints nothing, never exits, keeps no global state, follows no locale, and reads files only through `struct
 * hk_source`. Threads may share finished stages, which are constant; what is being made belongs to one thread. GSL aborts the
 * process on its errors unless its handler is off, and the handler is global: a host calls hk_gsl_errors_off() (or GSL's
 * gsl_set_error_handler_off) once, before any other call into this library.
 *
 * In later releases with the same number in front, structs that the library fills and structs of options grow at their end, and
 * enums before their last value or at their end: a program that was compiled before is compiled again, not changed. So options
 * begin with hk_..._defaults(), whose fields ask the usual question, and a host changes those it knows. The codes of findings
 * and their names in JSON keep their meaning for ever; their messages do not.
 */
#ifndef HANKFUL_H
#define HANKFUL_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#ifdef __cplusplus
extern "C" {
#endif

#define HK_API __attribute__((visibility("default")))
#define HK_PRINTF(fmt_at, args_at) __attribute__((format(printf, fmt_at, args_at)))
#define HK_NO_SIZE SIZE_MAX /* every size */

/* The release, "1.0.0". Static. */
HK_API const char *hk_version(void);

/* Turns the error handler of GSL off, for the whole process. */
HK_API void hk_gsl_errors_off(void);

/* ---- Findings: what was noticed in the user's files -------------------------------------------------------------- */

enum hk_severity {
    HK_SEVERITY_NOTE,    /* an assumption the answer rests on */
    HK_SEVERITY_WARNING, /* probably a mistake; the answer stands */
    HK_SEVERITY_ERROR,   /* no answer */
};

/* Each code has one meaning for ever; its severity and its name in JSON stand in diags.c. */
enum hk_code {
    /* files */
    HK_CODE_FILE_MISSING,    /* a file that must be there is not */
    HK_CODE_FILE_UNREADABLE, /* it is there but cannot be read: the machine's failure, exit 3 */
    HK_CODE_FILE_TOO_LARGE,
    HK_CODE_FILE_FORMAT,   /* a spreadsheet program's own format, or no text at all; cells separated by bars */
    HK_CODE_FILE_ENCODING, /* warning: not UTF-8, read as Windows-1252 */
    /* rows and columns */
    HK_CODE_CSV_SYNTAX, /* a quote left open, text after a closing quote */
    HK_CODE_HEADER_MISSING,
    HK_CODE_COLUMN_UNKNOWN, /* warning */
    HK_CODE_COLUMN_DOUBLED,
    HK_CODE_COLUMN_MISSING,
    HK_CODE_ROWS_MISSING, /* a header and nothing below */
    HK_CODE_CELL_MISSING, /* a required cell is empty */
    HK_CODE_CELL_TOO_LARGE,
    HK_CODE_CELL_EXTRA, /* more filled cells than the header has names */
    /* values */
    HK_CODE_NUMBER, /* not a number where one is needed */
    HK_CODE_UNIT_MISSING,
    HK_CODE_UNIT_WRONG,         /* unknown, or of another kind */
    HK_CODE_RANGE,              /* zero, negative or beyond what is possible */
    HK_CODE_SPREADSHEET_DAMAGE, /* what a spreadsheet made of a cell: a date, a negative number */
    HK_CODE_MONEY,
    HK_CODE_GRADE_COUNT,  /* not one value and not one for each size */
    HK_CODE_GRADE_FORM,   /* brackets or separators that do not close or fit */
    HK_CODE_CHOICE,       /* not one of the words allowed here */
    HK_CODE_NAME_UNKNOWN, /* a fabric, yarn, role, size, piece, field or stitch that does not exist */
    HK_CODE_NAME_DOUBLED,
    HK_CODE_YARN_CLASH, /* one yarn name, two put-ups */
    HK_CODE_CATEGORY,   /* warning: none of the trade's yarn categories */
    /* row notation */
    HK_CODE_ROW_SYNTAX,
    HK_CODE_ROW_TERMS,   /* a word of the other terms */
    HK_CODE_ROW_PLACE,   /* a place that is not there, or that may be meant in two ways */
    HK_CODE_ROW_NESTED,  /* a repeat in a repeat, of which nothing says how often it runs */
    HK_CODE_ROW_ENDLESS, /* a repeat that needs no stitches, where nothing ends it */
    HK_CODE_FABRIC_ROWS, /* a fabric's rows are not set-up, 1, 2, ... */
    /* counting */
    HK_CODE_WIDTH,         /* a width that does not fit the rows */
    HK_CODE_COUNT_DIFFERS, /* stated stitches are not those counted */
    HK_CODE_COUNT_TOO_LARGE,
    HK_CODE_START,         /* a start that cannot be: continue on nothing */
    HK_CODE_CIRCLE,        /* lines of which each depends on the next, and the last on the first */
    HK_CODE_TAKEN,         /* lines take more stitches of another than it leaves */
    HK_CODE_GAUGE_MISSING, /* a part in cm and no swatch that says how many stitches that is */
    /* evidence and answers */
    HK_CODE_SWATCH_TAILS, /* a swatch lighter than its tails */
    HK_CODE_SCALE_COARSE, /* warning: the step is above a tenth of the reading */
    HK_CODE_OUTLIER,      /* warning: a weighing far from what the loop rule and the rest expect */
    HK_CODE_SCATTER,      /* warning: weighings that lie further apart than the spreads say */
    HK_CODE_PROGRESS, /* a row of progress.csv that cannot be: more copies or rows than there are, more left than was in
                       * hand
                       */
    HK_CODE_FIT,      /* the fit did not converge */
    HK_CODE_BALL_SMALL, /* a ball no heavier than what one join wastes */
    HK_CODE_PRICE_MISSING,
    HK_CODE_PRICE_NOTHING, /* warning: a price of 0 for what is not at home */
    HK_CODE_COST_MISSING,  /* a price that cannot be computed: no costs, no hourly rate, a yarn without a price */
    HK_CODE_COST_ALL,      /* fees and tax take all of any price */
    /* offers and baskets */
    HK_CODE_OFFER_DOUBLED, /* warning: one offer in two rows */
    HK_CODE_OFFER_LENGTH,  /* warning: other metres a gram than the yarn's */
    HK_CODE_OFFER_SMALL,   /* warning: an offer left out, its ball no heavier than what a join wastes */
    HK_CODE_OFFER_NONE,    /* offers.csv has rows for a role, and none of its yarn and colour */
    HK_CODE_STOCK_SHORT,   /* all that is on offer together is not enough */
    HK_CODE_STOCK_LOTS,    /* only mixing lots, or colours, would be enough */
    HK_CODE_BASKET,        /* the search for the cheapest basket failed */
    HK_CODE_GRADING_FALLS, /* warning: a measurement falls from one size to the next, and rises over all of them */
    HK_CODE_ASSUMPTION,    /* note */
    HK_CODE_LENGTHS,       /* note: what the lengths of a line became */
    HK_CODE_STANDS,        /* note: what a line stands on, summed up */
    HK_CODE_UNTAKEN,       /* note: stitches that one line leaves and no other takes */
    HK_CODE_UNUSUAL, /* warning: a tool, a gauge or hours far from what there is: a slip of the decimal mark, a unit; a
                   line of pieces.csv that takes no yarn */
    HK_CODE_NOTE_FILLED,    /* warning: a line that begins with # and has the cells of a row */
    HK_CODE_LINE_DOUBLED,   /* warning: the same row twice, where two alike are hardly meant */
    HK_CODE_ROLE_UNUSED,    /* warning: no part is worked in a role of yarns.csv */
    HK_CODE_FABRIC_HIDES,   /* warning: a fabric of the project has the name of a shipped one */
    HK_CODE_SWATCH_DOUBLED, /* warning: one weighing in two folders, counted once; or two of one swatch that differ */
    HK_CODE_SIZE_WITHOUT,   /* warning: a size of the project has no parts */
    HK_CODE_SIZE_EMPTY,     /* nor has any other that was asked for */
    HK_CODE_CANCELLED,      /* the host ended the search (struct hk_watch) */
    HK_CODE_PRINT_LEFT,     /* warning: a word or number that a pattern printed again has as it was */
    HK_CODE_PRINT_DIFFERS,  /* a row of it comes to something else */
    HK_CODE_END
};

struct hk_place {
    const char *file;    /* as the source knows it */
    size_t line, column; /* from 1, columns in characters; line 0: the whole file */
};

struct hk_finding {
    enum hk_code code;
    struct hk_place at;
    const char *message; /* what was found */
    const char *hint;    /* what would do, or NULL */
};

/*
 * A list of findings. Starts as {0}; owns its texts. It keeps the first HK_FINDINGS_MOST and counts the rest. The fields are the
 * library's own: a host asks by the calls below.
 */
#define HK_FINDINGS_MOST 1000
struct hk_diags {
    struct hk_finding *findings;
    size_t count, capacity;
    size_t errors;  /* counts dropped errors too */
    size_t dropped;
    size_t hinting; /* 1 + the index of the finding that a hint would belong to; 0: none */
    bool machine, out_of_memory;
};

HK_API void hk_diags_free(struct hk_diags *diags);
/* No error and nothing lost. */
HK_API bool hk_diags_ok(const struct hk_diags *diags);
/* How many findings are kept, and each of them, from 0; NULL beyond. It stands until the list grows, is sorted or freed. */
HK_API size_t hk_diags_count(const struct hk_diags *diags);
HK_API const struct hk_finding *hk_diags_finding(const struct hk_diags *diags, size_t i);
/* Findings beyond HK_FINDINGS_MOST, and errors, those among them too. */
HK_API size_t hk_diags_dropped(const struct hk_diags *diags);
HK_API size_t hk_diags_errors(const struct hk_diags *diags);
/* Whether the machine failed and not the user: a file could not be read, or GLPK fell over. */
HK_API bool hk_diags_machine_failed(const struct hk_diags *diags);
/* Out of memory: there may be findings that are not in the list. A host that runs out of memory may say so too. */
HK_API bool hk_diags_lost(const struct hk_diags *diags);
HK_API void hk_diags_set_lost(struct hk_diags *diags);
/* File order (that of the design's table of files, then by name), line, column, then as found. */
HK_API void hk_diags_sort(struct hk_diags *diags);
/* "column-unknown". Static; NULL at HK_CODE_END and beyond. */
HK_API const char *hk_code_name(enum hk_code code);
HK_API enum hk_severity hk_code_severity(enum hk_code code);

/* ---- Source: the one way in ---------------------------------------------------------------------------------------- */

/* Which file it is, by whatever name or link: equal for one file, different for two. All zero: the host cannot tell. */
struct hk_identity {
    uint64_t device, number;
};

/* A file open for reading. read gives the bytes read, 0 at the end, -1 on failure with *why set. */
struct hk_file {
    void *handle;
    ptrdiff_t (*read)(void *handle, void *bytes, size_t count, const char **why);
    void (*close)(void *handle);
    struct hk_identity identity;
};

enum hk_open { HK_OPEN_DONE, HK_OPEN_ABSENT, HK_OPEN_REFUSED, HK_OPEN_NO_MEMORY };

/*
 * A project folder, or the folder of shipped tables. open gets a name such as "pieces.csv" or "../hat/swatches.csv" and
 * fills *file on HK_OPEN_DONE; on HK_OPEN_REFUSED *why says why ("Permission denied"), static or owned by the host. Threads that
 * read at the same time call it at the same time.
 */
struct hk_source {
    void *host;
    enum hk_open (*open)(void *host, const char *name, struct hk_file *file, const char **why);
};

/* The folder at `path`, which must live as long as the source. Names may lead out of it, as those of learn_from do. */
HK_API struct hk_source hk_source_folder(const char *path);
/* The same, but names that lead out of the folder are refused: for folders of others. */
HK_API struct hk_source hk_source_inside(const char *path);

/* Texts by name; the array ends with a NULL name. Both must live as long as the source. */
struct hk_memory_file {
    const char *name, *text; /* "pieces.csv"; UTF-8 */
};
HK_API struct hk_source hk_source_memory(const struct hk_memory_file *files);

/* ---- Catalogue: the shipped tables --------------------------------------------------------------------------------- */

struct hk_catalogue;

/* Reads all shipped tables. NULL on any error; owner: the caller. */
HK_API struct hk_catalogue *hk_catalogue_read(const struct hk_source *source, struct hk_diags *diags);
HK_API void hk_catalogue_free(struct hk_catalogue *catalogue);

/* The tables as rows of text, for showing. Column and cell texts live as long as the catalogue. */
HK_API size_t hk_catalogue_tables(const struct hk_catalogue *catalogue);
HK_API const char *hk_catalogue_table_name(const struct hk_catalogue *catalogue, size_t table); /* "stitches" */
HK_API size_t hk_catalogue_columns(const struct hk_catalogue *catalogue, size_t table);
HK_API size_t hk_catalogue_rows(const struct hk_catalogue *catalogue, size_t table);
HK_API const char *hk_catalogue_column(const struct hk_catalogue *catalogue, size_t table, size_t column);
HK_API const char *hk_catalogue_cell(const struct hk_catalogue *catalogue, size_t table, size_t row, size_t column);

/* ---- Project: one folder ------------------------------------------------------------------------------------------- */

struct hk_project;

/* Reads a whole project folder; every mistake in it is among the findings. NULL on any error. Borrows the catalogue. */
HK_API struct hk_project *hk_project_read(const struct hk_source *source, const struct hk_catalogue *catalogue,
                                          struct hk_diags *diags);
HK_API void hk_project_free(struct hk_project *project);

/*
 * The sizes, roles and yarns alone, of project.csv and yarns.csv, whatever is wrong with the other files. No stage comes of
 * it. NULL on any error in these two. Borrows the catalogue.
 */
HK_API struct hk_project *hk_project_read_names(const struct hk_source *source, const struct hk_catalogue *catalogue,
                                                struct hk_diags *diags);

/* The names of the files that a folder may hold, in the order of the manual: "project.csv". Static; NULL beyond the last. */
HK_API const char *hk_project_file(size_t i);
/* The kinds of costs.csv: "material", and the meaning in a line. Static; NULL beyond the last. */
HK_API const char *hk_cost_kind(size_t i, const char **meaning);

HK_API const char *hk_project_title(const struct hk_project *project);
HK_API size_t hk_project_sizes(const struct hk_project *project);
HK_API const char *hk_project_size(const struct hk_project *project, size_t size);
/* The size of that name, in any letter case and spelling of its signs, else HK_NO_SIZE and, if one is near, *nearest. */
HK_API size_t hk_project_find_size(const struct hk_project *project, const char *name, const char **nearest);
HK_API bool hk_project_uk_terms(const struct hk_project *project);
HK_API const char *hk_project_currency(const struct hk_project *project); /* "EUR", or "" where none is stated */
/* The digits after the point of the project's currency; 2 where none is stated. */
HK_API int hk_project_minor_digits(const struct hk_project *project);
/* An amount of money as typed, "95" or "EUR 95.00", in the project's currency. The findings have no place. */
HK_API bool hk_project_money(const struct hk_project *project, const char *text, int64_t *minor, struct hk_diags *diags);

/* A role and the yarn that is planned for it. */
struct hk_project_role {
    const char *name, *yarn, *colour; /* colour "" where none is stated */
};

/* One yarn by its name, in whatever role and colour. */
struct hk_project_yarn {
    const char *name, *fibre;           /* fibre "" where none is stated */
    double put_up_g, put_up_m;          /* of one ball, by the label */
    double diameter_mm;                 /* by wraps per inch where they are stated, else by the label */
};

struct hk_project_swatch {
    const char *name, *fabric;
    double tool_mm;
    int64_t stitches, rows;             /* of one; stitches 0: it starts from a ring or continues */
    int64_t copies;                     /* worked alike, and read together */
    double gauge_stitches, gauge_rows;  /* in 10 cm; 0: not known */
    double mass_g, scale_step_g;        /* 0: not weighed */
    double unravelled_m;                /* 0: not unravelled */
    double minutes;                     /* 0: not timed */
    struct hk_place at;
};

/* In the order of their files. Texts live as long as the project; an index from the number on is not allowed. */
HK_API size_t hk_project_roles(const struct hk_project *project);
HK_API struct hk_project_role hk_project_role(const struct hk_project *project, size_t role);
HK_API size_t hk_project_yarns(const struct hk_project *project);
HK_API struct hk_project_yarn hk_project_yarn(const struct hk_project *project, size_t yarn);
HK_API size_t hk_project_swatches(const struct hk_project *project);
HK_API struct hk_project_swatch hk_project_swatch(const struct hk_project *project, size_t swatch);

/* ---- A written pattern: pattern.txt, row by row ---- */

/* Whether the project has one that could be read. */
HK_API bool hk_project_written(const struct hk_project *project);

struct hk_written_places {
    const char *kind; /* "sc", "ch-2 sp", "st" where it is not known, in the project's terms */
    int64_t count;
};

struct hk_written_stated {
    const char *what; /* "sts", "dc", "ch-2 sp", "sts more" */
    int64_t stated, actual;
};

/* What a row line of pattern.txt comes to in one size; a range after its last row. Texts and arrays live as long as the
 * project. */
struct hk_written_row {
    const char *file, *piece, *part, *label; /* part and label: "" where it has none */
    const char *words;                       /* as they are written, without the label */
    size_t line;
    bool there;       /* the size has the row */
    bool worked;      /* else it could not be, and nothing below is known */
    bool from_stated; /* worked on what the row below states, since that one could not be worked */
    int64_t rows;
    int64_t stitches;                       /* by the choices taken */
    int64_t left;                           /* places left unworked */
    const struct hk_written_places *places; /* the edge that it leaves, by kind */
    size_t place_count;
    const struct hk_written_places *on_hold; /* what it puts on hold, by name: "left sleeve", or "stitches" */
    size_t on_hold_count;
    const struct hk_written_stated *stated;
    size_t stated_count;
    bool agrees;                 /* with all that it states */
    const char *const *readings; /* what custom leaves open and how it is taken: "ch 3 counts as dc" */
    size_t reading_count;
};

HK_API size_t hk_written_rows(const struct hk_project *project);
HK_API struct hk_written_row hk_written_row(const struct hk_project *project, size_t row, size_t size);

/*
 * How wide a row of pattern.txt is in one size (of a round: how far round it goes), spaces of n chains as wide as n
 * stitches, in metres; 0 where no swatch of the stitch that most of it is worked in has a gauge.
 */
HK_API double hk_written_row_width(const struct hk_project *project, size_t row, size_t size);

/* Choices that the pattern as a whole rests on, usual or not; NULL at the end. */
HK_API const char *hk_written_choice(const struct hk_project *project, size_t i);

/* Lines that are not read. `work`: it speaks of work within a piece, for which no yarn is counted. NULL at the end. */
HK_API const char *hk_written_prose(const struct hk_project *project, size_t i, size_t *line, bool *work);

/* Stitches of one kind in one size; chains and slip stitches too, an increase as the stitches that it makes. */
struct hk_stitch_total {
    size_t size;
    const char *stitch;
    int64_t count;
};

/* Of pattern.txt alone, by size. *complete: false where rows that could not be worked are missing. */
HK_API const struct hk_stitch_total *hk_written_totals(const struct hk_project *project, size_t *count, bool *complete);

/* ---- A written pattern printed again: for one size, in the other terms ---- */

struct hk_reprint;
enum hk_terms_wanted { HK_TERMS_WANTED_PROJECT, HK_TERMS_WANTED_US, HK_TERMS_WANTED_UK };

struct hk_reprint_options {
    size_t size; /* HK_NO_SIZE: all */
    enum hk_terms_wanted terms;
    bool markdown; /* as Markdown, where it is not written so */
};

/* A word or number that is printed otherwise; `after` is "" where it is left out. */
struct hk_reprint_change {
    size_t line, column; /* in pattern.txt */
    const char *before, *after;
};

/*
 * pattern.txt for one size, in the other terms, or both. Prose stays as it is but for graded numbers and words that can
 * mean nothing else. Findings: what is left as it is, a warning each; rows that come to something else where what is
 * printed is read again, an error each, and the text is there all the same. NULL where there is no pattern, or memory is
 * lost. Borrows the project; owner: the caller.
 */
HK_API struct hk_reprint *hk_reprint_make(const struct hk_project *project, struct hk_reprint_options options,
                                          struct hk_diags *diags);
HK_API void hk_reprint_free(struct hk_reprint *reprint);
HK_API const char *hk_reprint_text(const struct hk_reprint *reprint);
HK_API size_t hk_reprint_changes(const struct hk_reprint *reprint);
HK_API struct hk_reprint_change hk_reprint_change(const struct hk_reprint *reprint, size_t i);

/* ---- Settings from a written pattern: what a project can begin with ---- */

struct hk_text_yarn {
    const char *role;                            /* as the rows name it: "MC", "A" */
    const char *yarn, *put_up, *length, *colour; /* of its label, as written; "" where the text does not say so */
};

/* All texts are owned by it; "" or 0 where the text does not say so. */
struct hk_text_settings {
    const char *title;
    const char *const *sizes;
    size_t size_count;    /* 0: none are named */
    size_t graded;        /* how many values its graded numbers have, 0: it has none */
    bool terms_named, uk; /* uk: also where its words are only UK ones */
    const struct hk_text_yarn *yarns;
    size_t yarn_count;
    const double *tools_mm; /* all hooks and needles that it names, ascending */
    size_t tool_count;
    double gauge_stitches, gauge_rows; /* in 10 cm */
    double gauge_tool_mm;
    const char *gauge_fabric; /* a shipped fabric */
    const char *text;         /* all of it, as UTF-8 */
    size_t bytes;
    void *inside;
};

/* Reads a file of the source. NULL on any error; owner: the caller. They outlive the catalogue. */
HK_API struct hk_text_settings *hk_text_settings_read(const struct hk_source *source, const char *name,
                                                      const struct hk_catalogue *catalogue, struct hk_diags *diags);
HK_API void hk_text_settings_free(struct hk_text_settings *settings);

/* ---- Tally: stitch counts by line and size ------------------------------------------------------------------------- */

struct hk_tally;

/* Counts every line of pieces.csv in every size and every swatch. NULL on any error. Borrows the project. */
HK_API struct hk_tally *hk_tally_count(const struct hk_project *project, struct hk_diags *diags);
HK_API void hk_tally_free(struct hk_tally *tally);

/* Rows `first` to `last` of a line leave `stitches`, each `step` more than the one before. */
struct hk_row_run {
    int64_t first, last, stitches, step;
};

/*
 * A length of pieces.csv as it is worked: the whole stitches or rows that it became, and what they measure by the gauge
 * of a swatch. Widths that the fabric fits are `apart` stitches from each other (0: no other fits; rows and tapers: 1).
 */
struct hk_length_worked {
    double asked_m, finished_m;
    int64_t count, apart; /* count 0: no length was given */
    bool inches;          /* it was asked for in whole sixteenths of an inch, which whole millimetres hardly ever are */
    const char *swatch;   /* its name */
};

/* What a line of pieces.csv, or a part of pattern.txt, comes to in one size. Texts are borrowed from the project. */
struct hk_line_count {
    const char *piece, *part, *fabric;
    size_t line;        /* of pattern.txt or pieces.csv, where it begins */
    bool written;       /* of pattern.txt: `fabric` is one of mostly the same stitch */
    int64_t times;      /* 0: this size does without */
    int64_t foundation; /* chains, or stitches cast on; 0 where nothing is added */
    const struct hk_row_run *runs;
    size_t run_count;
    struct hk_length_worked width, end_width, height;
};

HK_API size_t hk_tally_lines(const struct hk_tally *tally);
/* Of the whole project, all copies, by size. */
HK_API const struct hk_stitch_total *hk_tally_totals(const struct hk_tally *tally, size_t *count);
HK_API struct hk_line_count hk_tally_line(const struct hk_tally *tally, size_t line, size_t size);
/* How wide so many stitches of a line are by the gauge of a swatch of its fabric, in metres; 0: no swatch has it. */
HK_API double hk_tally_row_width(const struct hk_tally *tally, size_t line, int64_t stitches);

/* ---- Fit: from weighings to the maker's departures ----------------------------------------------------------------- */

struct hk_fit;
struct hk_time_fit; /* of another quantity, so a thing of its own */

/* The maximum a posteriori fit of everything weighed, timed or unravelled. NULL on any error. Borrows the tally. */
HK_API struct hk_fit *hk_fit_make(const struct hk_tally *tally, struct hk_diags *diags);
/*
 * The same fit of everything timed: seconds where that one has metres (the model of DEVELOPERS.md). With nothing timed
 * the prior is the answer.
 */
HK_API struct hk_time_fit *hk_fit_time(const struct hk_tally *tally, struct hk_diags *diags);
HK_API void hk_time_fit_free(struct hk_time_fit *time);
HK_API void hk_fit_free(struct hk_fit *fit);

/* ---- Evidence: what each reading says ------------------------------------------------------------------------------ */

enum hk_evidence_kind {
    HK_EVIDENCE_SWATCH, /* weighed, g */
    HK_EVIDENCE_LENGTH, /* unravelled, m */
    HK_EVIDENCE_GRIST,  /* weighed and unravelled, g/m */
    HK_EVIDENCE_PIECE,  /* of progress.csv, here or learned: g used */
    HK_EVIDENCE_BALL,   /* a full ball, g */
};

enum hk_departure {
    HK_DEPARTURE_WRAPS,   /* a yarn-over laid and closed on the way against a full loop */
    HK_DEPARTURE_TENSION, /* the maker in the craft `of` */
    HK_DEPARTURE_STITCH,  /* the stitch `of` from the loop rule, */
    HK_DEPARTURE_TOOL,    /* the tool of `tool_mm`, */
    HK_DEPARTURE_YARN,    /* and the yarns `of` */
    HK_DEPARTURE_GRIST,   /* grams a metre of the yarn `of`, from its label */
    HK_DEPARTURE_MAKING,  /* this making, of size `of`, from others */
    HK_DEPARTURE_GARMENT, /* garments from swatches in the craft `of` */
    HK_DEPARTURE_SCALE,   /* grams that the scale of step_g shows too much */
    HK_DEPARTURE_BALL,    /* what the yarn `of` weighs on the scale, from its label */
};

struct hk_evidence_change {
    enum hk_departure departure;
    const char *of;     /* "" where it needs no name */
    double tool_mm, step_g;
    double from, to;    /* ratios less 1; SCALE: grams */
    double move;        /* the change, in the departure's own spread */
};

struct hk_evidence_reading {
    enum hk_evidence_kind kind;
    const char *name;   /* of the swatch, the piece or the yarn */
    struct hk_place at;
    double read, expected; /* what all other readings and the loop rule lead to expect */
    double deviations;  /* how far apart they are, in standard deviations of that expectation */
    const struct hk_evidence_change *changes; /* what the reading changed, most first; from: without it */
    size_t change_count;
};

struct hk_evidence {
    const struct hk_evidence_reading *readings; /* swatches, pieces and balls by file, then those learned from */
    size_t count;
};

/* Of a fit of hk_fit_make. NULL when memory runs out. Borrows the fit; owner: the caller. */
HK_API struct hk_evidence *hk_evidence_explain(const struct hk_fit *fit, struct hk_diags *diags);
HK_API void hk_evidence_free(struct hk_evidence *evidence);

/* ---- Need: how much yarn ------------------------------------------------------------------------------------------- */

struct hk_range {
    double likely, low, high; /* the median and the 5% and 95% quantiles */
    double enough;            /* the quantile at the chance, or the flat margin's */
};

struct hk_need_role {
    size_t size, role;
    const char *size_name, *role_name, *yarn, *colour;
    int64_t stitches; /* every kind, once each however many strands; tapers rounded half up */
    double loops;
    struct hk_range length_m, mass_g;
    double spread, spread_mass; /* standard deviations of ln length and ln mass */
    double chance;              /* that `enough` is enough */
    double put_up_g, put_up_m;
    double join_g;              /* what one join costs */
    int64_t balls;              /* of the planned yarn's put-up, joins included */
};

struct hk_need_part {
    size_t size, role;
    const char *size_name, *piece, *part, *role_name;
    int64_t stitches;
    double length_m, mass_g, enough_g; /* all copies, tails included; they add up to the role's */
    double share;                      /* of the role's likely grams in that size */
};

/* Why a role's range is as wide as it is: one cause, with what would take it away. */
enum hk_cause {
    HK_CAUSE_NOTHING_WEIGHED, /* nothing of this craft: the loop rule alone; remedy: a swatch of `fabric` with `tool_mm` */
    HK_CAUSE_SCALE,           /* step and accuracy of the scale of `swatch`; remedy: a finer scale, `rows` rows or `copies` */
    HK_CAUSE_STITCH,          /* `stitch` of the design is in no swatch; remedy: a swatch of `fabric` with `tool_mm` */
    HK_CAUSE_TOOL,            /* `tool_mm` was used for no swatch; remedy: as above */
    HK_CAUSE_YARN,            /* `yarn` (or this combination of yarns) is in no swatch; remedy: as above */
    HK_CAUSE_ONE_DAY,         /* a swatch is one day's work; remedy: another of `fabric` with `tool_mm`, on another day */
    HK_CAUSE_GRIST,           /* the label's grams a metre; remedy: unravel and measure `swatch`, which was weighed */
    HK_CAUSE_GARMENT,         /* a garment is not a swatch; remedy: weigh a finished `piece`, or what of role `yarn` is in it */
    HK_CAUSE_BALL,            /* what a ball of `yarn` weighs on the scale, in the air of the room; remedy: weigh a full one */
    HK_CAUSE_MAKING,          /* one day and one piece differ from the next: nothing narrows it before the work */
};

/*
 * Each remedy is taken alone, so shares may add up to more than 1, and what it promises holds where just that is done. A new
 * swatch is one that can be worked, in the role's yarn as the line holds it, with two ends. Causes below 3% are not listed, for
 * the spread as it is shown would stay; what nothing narrows (MAKING) always is.
 */
struct hk_need_why {
    size_t role;              /* which of hk_need.roles */
    enum hk_cause cause;
    double share; /* of the variance of ln mass that goes with the remedy; MAKING: that stays whatever you weigh */
    double spread_mass_then;  /* the spread of ln mass after the remedy; MAKING: after all remedies there are */
    const char *swatch, *stitch, *yarn, *fabric, *piece; /* whichever it speaks of, else NULL; stitch in the project's terms */
    double tool_mm;           /* 0 where it does not matter */
    double scale_step_g, scale_accuracy_g; /* SCALE: of the scale that was used; else 0 */
    double new_step_g;        /* step, and accuracy, of the scale that the promise is for; 0 where it does not matter */
    int64_t stitches;         /* of a new swatch; 0: it starts from a ring */
    int64_t rows;             /* of a new swatch; SCALE: of that one, which on the same scale do nine tenths of it */
    int64_t copies;           /* SCALE: as many of it, worked alike and weighed together, do nine tenths of it; 0: too many */
};

/* What the work in hand has used by its weighings in progress.csv: one size, one yarn that was weighed by itself. */
struct hk_need_used {
    size_t size;
    const char *size_name, *of; /* a role, or a yarn of several; "": several yarns weighed together */
    double mass_g;
};

struct hk_need_options {
    double chance;  /* in (0, 1), in place of a flat margin too; 0: what the project says */
    size_t size;    /* or HK_NO_SIZE: all of them */
};

struct hk_need {
    const char *project;     /* its title */
    double chance, margin;   /* margin: the flat margin asked for, or -1 */
    size_t evidence;         /* data in the fit */
    size_t evidence_progress; /* of these, weighings of what is being worked (progress.csv), */
    size_t evidence_learned; /* of finished work in other projects, */
    size_t evidence_balls;   /* and of full balls */
    size_t size_count;
    const char *const *sizes;         /* all of the project, whichever were asked for; `size` below counts these */
    const struct hk_need_role *roles; /* by size, then role in the order of yarns.csv */
    size_t role_count;
    const struct hk_need_part *parts; /* by size, line of pieces.csv, then role */
    size_t part_count;
    const double *covariance;         /* role_count x role_count, of ln mass */
    const struct hk_need_why *why;    /* of each role, in the middle size asked for; largest share first, MAKING last */
    size_t why_count;
    bool in_hand;                     /* progress.csv tells of work in hand; what is predicted is a fresh making all the same */
    const struct hk_need_used *used;  /* by that work, whichever sizes were asked for; in the order of progress.csv */
    size_t used_count;
};

HK_API struct hk_need_options hk_need_defaults(void);
/* Predicts all roles and sizes together. NULL on any error. Borrows the fit; owner: the caller. */
HK_API struct hk_need *hk_need_predict(const struct hk_fit *fit, struct hk_need_options options, struct hk_diags *diags);
HK_API void hk_need_free(struct hk_need *need);

/* ---- Design: from a folder to its need, in one call ------------------------------------------------------------------ */

/* All stages from the tables to the need. */
struct hk_design;

/*
 * Reads the tables and the project, counts, fits and predicts. NULL on any error. Borrows nothing: both sources may go
 * afterwards. Owner: the caller.
 */
HK_API struct hk_design *hk_design_read(const struct hk_source *tables, const struct hk_source *folder,
                                        struct hk_need_options options, struct hk_diags *diags);
HK_API void hk_design_free(struct hk_design *design);

/* Its stages; they live as long as the design. */
HK_API const struct hk_catalogue *hk_design_catalogue(const struct hk_design *design);
HK_API const struct hk_project *hk_design_project(const struct hk_design *design);
HK_API const struct hk_tally *hk_design_tally(const struct hk_design *design);
HK_API const struct hk_fit *hk_design_fit(const struct hk_design *design);
HK_API const struct hk_need *hk_design_need(const struct hk_design *design);

/* ---- Watching a long search ------------------------------------------------------------------------------------------- */

/*
 * go_on is called when the search begins and again and again while it lasts, on the thread that asked for the search. `done` is
 * the part of its time that is used, from 0 to 1, and never falls; most searches end long before 1. Where go_on returns false,
 * the search ends soon, nothing comes of it but the finding HK_CODE_CANCELLED, and go_on is not called again. It must not call
 * this library but for what other threads own. go_on NULL: nobody watches.
 */
struct hk_watch {
    bool (*go_on)(void *host, double done);
    void *host;
};

/* ---- Shop: what to buy --------------------------------------------------------------------------------------------- */

struct hk_shop_line {
    const char *role, *yarn, *colour;
    const char *shop, *lot;  /* "own": what is at home; "": the price in yarns.csv; lot "": not stated */
    double put_up_g, put_up_m;
    int64_t balls;
    int64_t price_minor, cost_minor; /* -1: no price is stated */
    int64_t worth_minor;     /* the cost; of balls at home what they are worth, by their value or the yarn's price; or -1 */
};

/*
 * What one ball more or fewer of a role does than in the step beside it, or one pack where it is sold in packs only. Fewer:
 * the bought basket without the ball (of those at home only where there is no other) that leaves the highest chance, then
 * the cheapest basket. More: with the ball that makes the cheapest basket, then the highest chance.
 */
struct hk_shop_step {
    int64_t balls;
    int64_t cost_minor;         /* of the whole basket, all other roles as bought; -1: no price is stated */
    double chance, margin, left_over_m;  /* margin: (bought - joins) / likely - 1 */
    double expected_left_over_m;         /* the mean of what is left over, over all makings */
    const char *shop, *lot;     /* of the ball left out or added; NULL in the step that is the basket itself */
    double put_up_g;
};

/* What decided how much is enough. */
enum hk_shop_basis { HK_SHOP_BASIS_CHANCE, HK_SHOP_BASIS_MARGIN, HK_SHOP_BASIS_LEAST_COST };

/*
 * Why this number balls cost least in the long run: of one put-up, with what running short costs (the model of
 * DEVELOPERS.md). What one fewer or one more costs beyond that is expected, over all makings, in minor units; HUGE_VAL
 * where one fewer is none.
 */
struct hk_shop_reason {
    int64_t balls;
    double put_up_g;
    int64_t price_minor;
    double fewer_minor, more_minor;
    double short_chance, short_chance_fewer; /* of running short with so many, and with one fewer */
    double spare_chance_more;                /* that one more would be left over */
};

struct hk_shop_role {
    const char *role;
    double need_g;   /* enough, without joins; what her swatches ate in it */
    double likely_g; /* the same at the median */
    double swatch_use_g; /* by her swatches, where the project counts them in */
    double bought_g, joins_g, chance, margin, left_over_m;
    double deviation_m; /* how well its length is known: the standard deviation */
    enum hk_shop_basis basis;
    struct hk_shop_reason reason;     /* of the least cost; else zero */
    size_t lots;                      /* that it is bought in; above 1 only where the project lets them mix */
    bool own_left;                    /* some of what is at home stays there, for a role stays in one lot */
    const struct hk_shop_step *steps; /* two fewer to two more, at least one ball, as far as the stock goes */
    size_t step_count;
};

/* What one shop asks. */
struct hk_shop_bill {
    const char *shop;
    int64_t goods_minor, postage_minor, discount_minor, total_minor;
};

/* One basket: for one size, or for all that were asked for together. */
struct hk_shop_size {
    const char *size;  /* "M", or "S + M + L" */
    int64_t times;     /* makings of each */
    const struct hk_shop_line *lines;
    size_t line_count;
    const struct hk_shop_role *roles;
    size_t role_count;
    const struct hk_shop_bill *bills; /* of the shops that something is bought in, and of what is at home */
    size_t bill_count;
    int64_t goods_minor, postage_minor, discount_minor, total_minor; /* of the lines that have a price */
    bool priced;       /* every line has one */
    double chance_all;
    bool proven;       /* no cheaper basket exists */
    double gap;        /* else: the cheapest is at most this ratio below the total */
};

struct hk_shop {
    const char *project, *currency;
    int minor_digits;
    double chance, margin; /* margin: flat, or -1 */
    int64_t short_cost_minor; /* what running short costs, where that decided; else -1 */
    double spare_worth;       /* and what a ball left over keeps of its price */
    bool offers;              /* there are offers to choose from, beyond the prices in yarns.csv */
    bool lots_apart;          /* each role stays in one dye lot, and an offer that names none is one of its own */
    const struct hk_shop_size *sizes;
    size_t size_count;
};

struct hk_shop_options {
    double seconds;  /* time limit of the search for each basket; > 0 */
    bool together;   /* one basket for all sizes of the need, in place of one for each */
    int64_t times;   /* makings of each size; 1 to HK_SHOP_TIMES_MOST */
    bool by_chance;  /* the chance or margin of the need decides, even where the project states short_cost */
    bool unpriced_silent; /* a yarn without a price is no finding, for a host that says so itself, as hk_quote_make does */
    struct hk_watch watch;
};
#define HK_SHOP_TIMES_MOST 10000

HK_API struct hk_shop_options hk_shop_defaults(void); /* 10 s, each size on its own, once */

/*
 * The cheapest basket for every size asked for, from offers.csv and shops.csv, where they have nothing for a role from
 * its price in yarns.csv. A yarn without a price is a warning (HK_CODE_PRICE_MISSING): balls are counted all the same,
 * and no cost. NULL on any error, among them HK_CODE_STOCK_SHORT and HK_CODE_STOCK_LOTS: no basket can do. Owns the
 * calling thread's GLPK environment for the time of the call; a host that has problems of its own in it calls this on
 * another thread. Borrows the need; owner: the caller.
 */
HK_API struct hk_shop *hk_shop_plan(const struct hk_need *need, struct hk_shop_options options, struct hk_diags *diags);
HK_API void hk_shop_free(struct hk_shop *shop);

/* ---- Hours: how long a design takes -------------------------------------------------------------------------------------- */

struct hk_hours_part {
    const char *piece, *part;
    double worked_h, ends_h; /* likely, all copies */
    double ends;             /* how many are woven in */
};

struct hk_hours_size {
    size_t size;
    const char *size_name;
    struct hk_range hours;   /* h: the median, the 5% and 95% quantiles; `enough` is the median */
    double spread;           /* standard deviation of ln hours */
    double worked_h, ends_h; /* likely; they add up to hours.likely */
    double ends;
    const struct hk_hours_part *parts; /* lines of pieces.csv that this size has */
    size_t part_count;
};

/* A kind of stitch on a tool: seconds each, in any yarn of the design, another day's difference left out. */
struct hk_hours_stitch {
    const char *stitch; /* in the project's terms */
    double tool_mm;
    double count;       /* in size `stitch_size` */
    double hours;
    double spread;      /* standard deviation of ln seconds */
    struct hk_range each_s;
};

struct hk_hours {
    const char *project;
    size_t evidence; /* things timed */
    double end_min;  /* minutes an end */
    const struct hk_hours_size *sizes;
    size_t size_count;
    size_t stitch_size; /* of the project: the size asked for, or the middle one */
    const struct hk_hours_stitch *stitches;
    size_t stitch_count;
};

/* Hours by size (HK_NO_SIZE: all) from hk_fit_time. NULL on any error. Borrows the fit; owner: the caller. */
HK_API struct hk_hours *hk_hours_predict(const struct hk_time_fit *time, size_t size, struct hk_diags *diags);
HK_API void hk_hours_free(struct hk_hours *hours);

/* ---- Compare: another yarn in a role's place ---------------------------------------------------------------------------- */

/* A catalogue of yarns that are no part of the design. */
struct hk_yarn_list;

/*
 * Reads a file with the columns of yarns.csv (a role is passed over; one name may stand in several put-ups and colours);
 * prices are in the project's currency. NULL on any error. Borrows the project; owner: the caller.
 */
HK_API struct hk_yarn_list *hk_yarn_list_read(const struct hk_source *source, const char *name,
                                              const struct hk_project *project, struct hk_diags *diags);
HK_API void hk_yarn_list_free(struct hk_yarn_list *list);

enum hk_verdict { HK_VERDICT_FITS, HK_VERDICT_OTHER_TOOL, HK_VERDICT_DIFFERS };

/* Why the verdict is what it is. */
enum hk_reason {
    HK_REASON_GAUGE,      /* FITS: stitches come out within 3% of their size in the planned yarn */
    HK_REASON_TOOL,       /* OTHER_TOOL: with `keeping_tool_mm` they do */
    HK_REASON_CATEGORY,   /* DIFFERS: no yarn category in common with the planned yarn */
    HK_REASON_THICKNESS,  /* DIFFERS: over a quarter thicker or a fifth thinner: another fabric, whatever the tool */
    HK_REASON_NO_TOOL,    /* DIFFERS: no hook or needle of the trade keeps them within 3% */
    HK_REASON_BALL_SMALL, /* DIFFERS: a ball holds no more than a join wastes, or no number of them is enough */
};

/* One yarn of a row: two where they are held together. Two strands of one yarn are one yarn, bought once. */
struct hk_compare_yarn {
    const char *yarn, *colour, *fibre;
    int64_t strands;                 /* of it: 2 where it is held together with itself, else 1 */
    double put_up_g, put_up_m;
    struct hk_range mass_g;
    int64_t balls;                   /* to buy; 0: no number of balls is enough */
    /* Of the offer of that ball in offers.csv where it costs least, in whole packs; else as listed. -1: none is stated. */
    int64_t price_minor, cost_minor;
    double left_over_m;              /* of what the balls hold, joins and the likely length taken off */
    bool weighed;                    /* the fit knows it: a swatch of it was weighed or unravelled */
};

struct hk_compare_row {
    struct hk_compare_yarn yarns[2];
    size_t yarn_count;
    enum hk_verdict verdict;
    enum hk_reason reason;
    struct hk_range length_m;    /* of each of its yarns, all its strands, worked with the plan's tools */
    double spread;               /* standard deviation of ln length */
    double mass_g;               /* likely, all its yarns */
    int64_t balls, cost_minor;   /* all its yarns; cost -1: not known */
    double left_over_m;          /* all its yarns */
    double piece_g;              /* likely mass of the finished piece, the other roles in it */
    double thickness;            /* its diameter against the planned yarn's: a ratio */
    double stitch_size;          /* of a stitch with the plan's tool against the planned yarn's: a ratio */
    double tool_mm;              /* the plan's: with it most of the role is worked */
    double keeping_tool_mm;      /* the plan's where stitches keep their size within 3%, else the trade's that does; 0: none */
    const char *keeping_label;   /* "I-9", or "" */
    double keeping_length_m;     /* likely, all the role's tools changed by as much; 0: no tool keeps the gauge */
    const char *categories;      /* "3 Light, 4 Medium": all that fit */
    double moisture_low, moisture_high; /* agreed allowance, a ratio of the dry mass; -1 where the fibre is not known */
    bool damp;                   /* that allowance is 3 points or more from the planned yarn's: it weighs otherwise in damp air */
    size_t listed;               /* from 0, in the order of the list; pairs behind all single yarns */
};

enum hk_compare_order { HK_COMPARE_ORDER_COST, HK_COMPARE_ORDER_LENGTH, HK_COMPARE_ORDER_MASS, HK_COMPARE_ORDER_BALLS };

struct hk_compare_options {
    const char *role;                /* NULL: the first with other candidates in yarns.csv, or where `list` is given the first */
    const struct hk_yarn_list *list; /* NULL: the candidates of yarns.csv */
    enum hk_compare_order order;
    bool held_together;              /* pairs too, whose grams a metre add up to within 5% of the planned yarn's */
};

struct hk_compare {
    const char *project, *currency, *size, *role;
    int minor_digits;
    bool needles;                      /* the role is knitted: tools are needles */
    bool offers;                       /* some price is that of an offer */
    double chance, margin;             /* margin: flat, or -1 */
    struct hk_compare_row plan;        /* the planned yarn, computed in the same way */
    const struct hk_compare_row *rows; /* those that fit first, in the order asked for; what has no price comes last */
    size_t row_count;
};

HK_API struct hk_compare_options hk_compare_defaults(void);
/*
 * Every candidate in the role's place, in one size: the middle one of those that the need was asked for. Lengths are by the
 * loop rule with the candidate's diameter at the fitted departures; masses by its label, or by the fit where it was weighed.
 * NULL on any error, such as no candidate, or a list that was read for another project. Borrows the need and the list; owner:
 * the caller.
 */
HK_API struct hk_compare *hk_compare_make(const struct hk_need *need, struct hk_compare_options options,
                                          struct hk_diags *diags);
HK_API void hk_compare_free(struct hk_compare *compare);

/* ---- Quote: what to charge ------------------------------------------------------------------------------------------------- */

enum hk_question {
    HK_QUESTION_COMMISSION, /* one piece, made to order */
    HK_QUESTION_KIT,        /* yarn, notions and pattern for somebody else to make it */
    HK_QUESTION_PATTERN,    /* the pattern alone */
};

struct hk_quote_options {
    enum hk_question question;
    int64_t price_minor;                    /* the price named, before a tax that is added; -1: what she has to ask */
    int64_t ending_minor, ending_modulus;   /* what is paid ends so: paid % modulus == minor; modulus 1: any price */
    int64_t deposit_millionths;             /* of the price; up to 10^6 */
    bool used;                              /* yarn by what goes in (a kit: wound off) in place of whole balls bought */
    int64_t batch;                          /* kits made at a time; at least 1 */
    int64_t waste_millionths;               /* of the yarn, lost in winding */
    int64_t spare_millionths;               /* of everything in a kit, bought beyond the batch */
    int64_t code_millionths;                /* what a discount code takes off a pattern or kit; 0: none; below 10^6 */
    double seconds;                         /* kit: time limit of all searches for cheapest baskets, by size; > 0 */
    struct hk_watch watch;                  /* kit: over those */
};

/*
 * What a sale comes to, to the minor unit: paid = quoted (+ tax where it is added), and
 *     paid - fees - tax - costs = kept
 */
struct hk_bill {
    int64_t quoted_minor, paid_minor, fees_minor, tax_minor, costs_minor, kept_minor;
    const int64_t *fee_minor; /* by fee of the quote; they add up to fees_minor */
};

/* A fee that is charged on the sale. */
struct hk_quote_fee {
    const char *item;
    bool percent;
    int64_t millionths;   /* percent: of all that the buyer pays */
    int64_t amount_minor; /* else */
};

/* Balls of one mass. */
struct hk_quote_balls {
    double put_up_g;
    int64_t balls;
};

/* Yarn of one role. */
struct hk_quote_yarn {
    const char *role, *yarn, *colour;
    double mass_g;        /* commission: likely; kit: what one kit holds */
    int64_t balls;        /* commission: bought or from home; kit: in one kit, 0 where it is wound off */
    const struct hk_quote_balls *put_ups; /* the same by mass, the largest first */
    size_t put_up_count;
    double more_g;        /* commission: one ball more, what it weighs and costs */
    int64_t price_minor;
};

/*
 * One size of a commission or a kit. Costs of a kit are those of one kit of the batch, rounded up. To the minor unit
 *
 *     yarn + materials + overhead + postage + each_fixed = costs
 *     costs + labour + markup + fees + tax + rounding = paid      where the price is the answer
 */
struct hk_quote_size {
    const char *size;
    const struct hk_quote_yarn *yarns;
    size_t yarn_count;
    int64_t yarn_bought_minor, yarn_used_minor; /* commission: both; kit: used is 0 */
    int64_t yarn_home_minor;                    /* what the balls from home are worth, besides those bought */
    int64_t yarn_minor;                         /* what counts: bought and from home, or used */
    int64_t materials_minor;                    /* notions, and what a kit holds besides */
    int64_t overhead_minor, postage_minor;
    struct hk_range hours;                      /* h, all of hers: from the stitches and ends, and stated */
    double stated_h;                            /* those that costs.csv states, in them */
    int64_t labour_minor, markup_minor;
    int64_t rounding_minor;                     /* what the price is above all that it has to pay; 0 where it is given */
    struct hk_bill bill;
    int64_t deposit_minor;
    /* commission: */
    int64_t price_low_minor, price_high_minor;  /* paid; 5% and 95%: what it would be if yarn and hours were known */
    int64_t earns_minor, earns_low_minor, earns_high_minor; /* an hour, at the price; -1 where there are no hours */
    double chance_below;                        /* that it pays less than her hourly rate; -1 where no rate is stated */
    /* kit: */
    int64_t fixed_minor, each_fixed_minor;      /* of the batch, and of one kit */
    int64_t even_batch;                         /* that batch and every larger one up to even_most pays; -1: none */
    int64_t even_most;                          /* 100, or the batch where that is more; less where no more is to be had */
    const struct hk_quote_batch *batches;
    size_t batch_count;
    struct hk_bill code_bill;                   /* with the discount code */
    int64_t code_even_batch;
};

/*
 * What one kit costs, all told, in a batch of that size with the cheapest basket of yarn, and what the batch leaves beyond that
 * at the price.
 */
struct hk_quote_batch {
    int64_t kits;
    bool had; /* there is yarn enough on offer; else nothing of what follows holds */
    int64_t unit_minor, left_minor;
    bool proven; /* no cheaper basket of yarn exists */
    double gap;  /* else: the cheapest is at most this ratio below the one that is used */
};

/* A pattern at one price. */
struct hk_quote_sales {
    struct hk_bill bill; /* costs 0 */
    int64_t sales;       /* until the fixed costs are back; -1: never */
};

struct hk_quote {
    const char *project, *currency;
    int minor_digits;
    enum hk_question question;
    bool used, solved; /* solved: the price is the answer, not the question */
    const struct hk_quote_fee *fees; /* in the order of costs.csv */
    size_t fee_count;
    bool tax_stated, tax_added;
    const char *tax_item;   /* NULL where no tax is stated */
    int64_t tax_millionths; /* of the price before it */
    bool ordered;      /* some yarn's cost has postage or a discount of its shop in it */
    int64_t batch;
    bool wasted, spared; /* a kit's batch has waste, or spare, in it */
    size_t timed;      /* things timed */
    double chance;     /* that the yarn is enough */
    double margin;     /* flat, in place of it; or -1 */
    struct hk_shop shop; /* kit: the basket for the batch by size: lines, bills and sums, no roles */
    const struct hk_quote_size *sizes; /* none for a pattern */
    size_t size_count;
    int64_t fixed_minor;               /* pattern: all, labour and overhead in it */
    int64_t labour_minor, overhead_minor;
    struct hk_quote_sales sales, code_sales;
};

HK_API struct hk_quote_options hk_quote_defaults(enum hk_question question);
/*
 * Solves the price, or answers what one leaves. The shop (needed for a commission only, else it may be NULL) and the hours
 * are made from that need and its tally, for the same sizes, once: anything else is refused. A kit buys the yarn of its batch
 * as hk_shop_plan does, whose words on GLPK hold here too.
 * NULL on any error: no hourly rate, no price for a yarn, not enough on offer for the batch, fees and tax that take all of a
 * price. Borrows them all; owner: the caller.
 */
HK_API struct hk_quote *hk_quote_make(const struct hk_need *need, const struct hk_shop *shop, const struct hk_hours *hours,
                                      struct hk_quote_options options, struct hk_diags *diags);
HK_API void hk_quote_free(struct hk_quote *quote);

/* ---- Materials: what a published pattern prints ------------------------------------------------------------------------- */

/* One amount for every size, as a pattern prints it, in both systems of units. */
struct hk_printed {
    const double *metric, *customary;         /* as rounded; NAN where a size does without */
    const char *metric_unit, *customary_unit; /* "m", "yd"; both "" for counts, which then are the same */
    const char *metric_text, *customary_text; /* graded notation with the unit: "480 (520, 570) m" */
};

/* A yarn in one colour, whatever roles it has. */
struct hk_materials_colour {
    const char *colour, *roles;        /* "main", "main and trim" */
    struct hk_printed length, mass;    /* enough, rounded up */
    const int64_t *balls;              /* by size; 0: does without */
    const char *balls_text;            /* "9 (10, 11)" */
};

struct hk_materials_yarn {
    const char *yarn, *fibre, *categories; /* "3 Light": the stated one, else all that fit */
    double put_up_g, put_up_m;
    const char *put_up_text;               /* "50 g / 1.76 oz, 120 m / 131 yd" */
    const struct hk_materials_colour *colours;
    size_t colour_count;
};

struct hk_materials_tool {
    double tool_mm;
    const char *label; /* "H-8"; "" where the trade has none */
    bool needle;
    const char *text;  /* US terms: "US H-8 (5 mm) hook", UK: "5 mm (US H-8) hook" */
};

struct hk_materials_gauge {
    const char *fabric, *care, *swatch; /* the fabric by its name in the terms asked for */
    double tool_mm, stitches, rows;     /* in 10 cm, to half a stitch; 0 where not known */
    bool rounds;                        /* rows are rounds */
    const char *text;
};

struct hk_materials_size {
    const char *name;
    struct hk_printed amount;
};

/* An abbreviation that the design's rows use, stitches first. */
struct hk_materials_word {
    const char *word, *meaning; /* in the terms asked for */
};

struct hk_materials {
    const char *project;
    const char *const *sizes;
    size_t size_count;
    const char *sizes_text;       /* "XS (S, M, L)" */
    bool uk;                      /* terms of all that follows */
    double chance, margin;        /* margin: flat, or -1 */
    double chance_all;            /* that all yarns are enough, in the size where that is least; with one yarn its own */
    size_t colour_count;          /* of all yarns */
    bool plain;                   /* how sure the amounts are is not to be printed */
    double reader, round_to;
    const struct hk_materials_yarn *yarns;
    size_t yarn_count;
    const struct hk_materials_tool *tools;   /* largest first */
    size_t tool_count;
    const char *const *notions;
    size_t notion_count;
    const struct hk_materials_gauge *gauges;
    size_t gauge_count;
    const struct hk_materials_size *measures; /* finished */
    size_t measure_count;
    const struct hk_materials_word *words;
    size_t word_count;
};

struct hk_materials_options {
    double round_to;             /* amounts are rounded up to multiples of it; > 0 */
    enum hk_terms_wanted terms;
    bool plain;                  /* how sure the amounts are is left out of what is printed */
};

HK_API struct hk_materials_options hk_materials_defaults(void); /* 10, the project's terms */
/*
 * The block for the sizes that the need was asked for. Amounts are for a reader who meets the
 * gauge: the spread `reader` is added to the maker's own; a flat margin stays as it is. NULL on any error. Borrows the need;
 * owner: the caller.
 */
HK_API struct hk_materials *hk_materials_make(const struct hk_need *need, struct hk_materials_options options,
                                              struct hk_diags *diags);
HK_API void hk_materials_free(struct hk_materials *materials);

/* ---- Money ---------------------------------------------------------------------------------------------------------- */

#define HK_MONEY_TEXT 32
/*
 * "38.40" for 3840 with 2 digits, "1200" with 0, "-0.05" for -5. minor_digits from 0 to 18, else the text is "". Writes at most
 * HK_MONEY_TEXT bytes.
 */
HK_API void hk_money_text(int64_t minor, int minor_digits, char text[HK_MONEY_TEXT]);

/* ---- Showing and helping ---------------------------------------------------------------------------------------------- */

/* Exact: NIST HB 44 (2014) App. C. */
#define HK_M_PER_YARD 0.9144
#define HK_M_PER_INCH 0.0254
#define HK_G_PER_OUNCE 28.349523125

/* A number as text. Small enough to return. */
struct hk_number {
    char text[40];
};

/*
 * To `digits` significant digits, 1 to 17, with a point whatever the locale and no zeros at its end: "430", "2.75", "0.0015".
 * From 10^15 on, and below 10^-9, with a power of ten: "1.2 x 10^18". "nan" and "inf" as C has them.
 */
HK_API struct hk_number hk_number_text(double value, int digits);

/* The index of the name nearest to a mistyped word (letter case folded), HK_NO_NAME where none is near. */
#define HK_NO_NAME SIZE_MAX
HK_API size_t hk_nearest_name(const char *word, const char *const *names, size_t count);

/* ---- Convert: one amount in every unit ------------------------------------------------------------------------------- */

/* One fineness in every system; formulas in convert.c. */
struct hk_yarn_number {
    double tex;             /* g/km */
    double metric_nm;       /* km/kg */
    double denier;          /* g in 9 km */
    double cotton_ne;       /* hanks of 840 yd a pound */
    double worsted_ne;      /* hanks of 560 yd a pound */
    double woollen_run;     /* runs of 1600 yd a pound */
    double yards_a_pound;
    double metres_in_100_g;
    double wraps_per_inch;  /* measured if that is what was given, else from tex by the diameter rule of the spreads */
    double diameter_mm;
};

/*
 * One value where the fineness is known, a range where it comes from a category. Mass and length follow from each other where
 * the fineness is known; mass and length together give it.
 */
struct hk_convert {
    bool has_mass, has_length, has_number; /* which of the following hold something */
    double mass_g[2], length_m[2];         /* low and high; equal where known */
    struct hk_yarn_number number[2];       /* of the finest and the coarsest; equal where known */
    bool by_rule;                          /* wraps or a diameter were given: mass and length a piece are only the rule's */
    bool finer_too, coarser_too;           /* the category is open at that end: what is beyond number[] belongs to it too */
    double put_up_g;                       /* of the label or named yarn; 0 where there is none */
    double balls[2];                       /* the mass in that put-up, not rounded; 0 where either is missing */
    const char *const *categories;         /* "4 Medium": the one asked for, else all that the wraps per inch fit, for */
    size_t category_count;                 /* categories overlap; owner: the result */
    void *memory;
};

/*
 * `words`: amounts and descriptions as given on the command line, such as {"275 g", "50 g = 120 m"}, {"400 tex"},
 * {"12 wpi"}, {"275 g", "category 4"}, {"275 g", "yarn name"} (project may be NULL). Words that belong together may be apart:
 * {"275", "g", "50", "g", "=", "120", "m"}. Findings have the file "words" and the word's number as line. False on any
 * error; *result is untouched then, else freed by hk_convert_free.
 */
HK_API bool hk_convert_words(const char *const *words, size_t count, const struct hk_catalogue *catalogue,
                             const struct hk_project *project, struct hk_convert *result, struct hk_diags *diags);
HK_API void hk_convert_free(struct hk_convert *result);

#ifdef __cplusplus
}
#endif
#endif
