/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Hankful computes how much yarn a crochet or knit design takes in every size, and what to buy.
 *
 * Data flows one way. Each stage is one struct and is freed by its own _free function, which accepts NULL:
 *
 *     hk_source -> hk_catalogue -> hk_project -> hk_tally -> hk_fit -> hk_need -> hk_shop
 *
 * A stage borrows the stages before it: free them in the reverse order; hk_design holds them from the source to the
 * need. A stage returns NULL on failure; the findings state each error and its place. Stages that were not made from
 * each other are refused with a finding. The library prints nothing, never exits, keeps no global state, follows no
 * locale, and reads files only through `struct hk_source`. Threads may share finished stages, which are constant; a
 * stage belongs to one thread until its call returns. GSL aborts the process on its errors unless its handler is off,
 * and the handler is global: a host calls hk_gsl_errors_off() (or GSL's gsl_set_error_handler_off) once, before any
 * other call into this library.
 *
 * In later releases with the same major number, structs that the library fills and option structs grow at their end,
 * and enums before their last value or at their end. A program must be recompiled for a new release, but its source
 * stays valid. Initialise options by hk_..._defaults() and then set the fields you need. The codes of findings and
 * their names in JSON never change their meaning; their messages may change.
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

/*
 * ---- Findings: errors, warnings and notes on the user's files
 * --------------------------------------------------------------
 */

enum hk_severity {
    HK_SEVERITY_NOTE,    /* an assumption the answer rests on */
    HK_SEVERITY_WARNING, /* probably a mistake; there is an answer */
    HK_SEVERITY_ERROR,   /* no answer */
};

/* A code never changes its meaning. diags.c holds its severity and its name in JSON. */
enum hk_code {
    /* files */
    HK_CODE_FILE_MISSING,    /* a required file is missing */
    HK_CODE_FILE_UNREADABLE, /* the file exists but cannot be read: a failure of the machine, exit code 3 */
    HK_CODE_FILE_TOO_LARGE,
    HK_CODE_FILE_FORMAT,   /* a spreadsheet program's own format, a file that is not text, or cells separated by bars */
    HK_CODE_FILE_ENCODING, /* warning: not UTF-8, read as Windows-1252 */
    /* rows and columns */
    HK_CODE_CSV_SYNTAX, /* an unclosed quote, or text after a closing quote */
    HK_CODE_HEADER_MISSING,
    HK_CODE_COLUMN_UNKNOWN, /* warning */
    HK_CODE_COLUMN_DOUBLED,
    HK_CODE_COLUMN_MISSING,
    HK_CODE_ROWS_MISSING, /* a header without rows */
    HK_CODE_CELL_MISSING, /* a required cell is empty */
    HK_CODE_CELL_TOO_LARGE,
    HK_CODE_CELL_EXTRA, /* more filled cells than columns */
    /* values */
    HK_CODE_NUMBER, /* a cell that must hold a number does not */
    HK_CODE_UNIT_MISSING,
    HK_CODE_UNIT_WRONG,         /* an unknown unit, or one of another quantity */
    HK_CODE_RANGE,              /* zero, negative or outside the possible range */
    HK_CODE_SPREADSHEET_DAMAGE, /* a cell that a spreadsheet converted, to a date or a negative number */
    HK_CODE_MONEY,
    HK_CODE_GRADE_COUNT,  /* neither one value nor one for each size */
    HK_CODE_GRADE_FORM,   /* unclosed brackets, or separators that do not match */
    HK_CODE_CHOICE,       /* not one of the allowed words */
    HK_CODE_NAME_UNKNOWN, /* a fabric, yarn, role, size, piece, field or stitch that does not exist */
    HK_CODE_NAME_DOUBLED,
    HK_CODE_YARN_CLASH, /* one yarn name, two put-ups */
    HK_CODE_CATEGORY,   /* warning: not one of the trade's yarn categories */
    /* row notation */
    HK_CODE_ROW_SYNTAX,
    HK_CODE_ROW_TERMS,   /* a word of the other terms (US or UK) */
    HK_CODE_ROW_PLACE,   /* a place that does not exist, or is ambiguous */
    HK_CODE_ROW_NESTED,  /* a nested repeat without a stated number of times */
    HK_CODE_ROW_ENDLESS, /* a repeat that uses no stitches and has no end */
    HK_CODE_FABRIC_ROWS, /* the rows of a fabric are not numbered set-up, 1, 2, ... */
    /* counting */
    HK_CODE_WIDTH,         /* a width that does not fit the rows */
    HK_CODE_COUNT_DIFFERS, /* the stated stitch count differs from the computed one */
    HK_CODE_COUNT_TOO_LARGE,
    HK_CODE_START,         /* an impossible start, such as "continue" without a row before it */
    HK_CODE_CIRCLE,        /* lines that depend on each other in a circle */
    HK_CODE_TAKEN,         /* lines take more stitches from another line than it leaves */
    HK_CODE_GAUGE_MISSING, /* a part in cm without a swatch that gives its gauge */
    /* evidence and answers */
    HK_CODE_SWATCH_TAILS, /* a swatch lighter than its tails */
    HK_CODE_SCALE_COARSE, /* warning: the scale step is above a tenth of the reading */
    HK_CODE_OUTLIER,  /* warning: a weighing far from the value that the loop rule and the other weighings predict */
    HK_CODE_SCATTER,  /* warning: the weighings scatter more than the spreads allow */
    HK_CODE_PROGRESS, /* an impossible row of progress.csv: too many copies or rows, or more yarn left than at the start
                       */
    HK_CODE_FIT,      /* the fit did not converge */
    HK_CODE_BALL_SMALL, /* a ball that is not heavier than the waste of one join */
    HK_CODE_PRICE_MISSING,
    HK_CODE_PRICE_NOTHING, /* warning: a price of 0 for yarn that is not at home */
    HK_CODE_COST_MISSING,  /* a price that cannot be computed: costs, the hourly rate or the price of a yarn is missing
                            */
    HK_CODE_COST_ALL,      /* fees and tax take the whole price, however high */
    /* offers and baskets */
    HK_CODE_OFFER_DOUBLED, /* warning: two rows state the same offer */
    HK_CODE_OFFER_LENGTH,  /* warning: the offer has other metres per gram than the yarn */
    HK_CODE_OFFER_SMALL,   /* warning: an offer is left out: its ball is not heavier than the waste of one join */
    HK_CODE_OFFER_NONE,    /* offers.csv has rows for a role, but no row with its yarn and colour */
    HK_CODE_STOCK_SHORT,   /* all offers together are not enough */
    HK_CODE_STOCK_LOTS,    /* the stock is enough only if dye lots, or colours, are mixed */
    HK_CODE_BASKET,        /* the search for the cheapest basket failed */
    HK_CODE_GRADING_FALLS, /* warning: a measurement falls from one size to the next, but rises from the first to the
                              last */
    HK_CODE_ASSUMPTION,    /* note */
    HK_CODE_LENGTHS,       /* note: the stitches and rows computed from the lengths of a line */
    HK_CODE_STANDS,        /* note: the sources of the stitches a line starts on, summed up */
    HK_CODE_UNTAKEN,       /* note: stitches that one line leaves and no other line takes */
    HK_CODE_UNUSUAL,     /* warning: an implausible tool, gauge or time, as by a misplaced decimal mark or a wrong unit;
                          * a line of pieces.csv that takes no yarn; a name that may be meant otherwise */
    HK_CODE_NOTE_FILLED, /* warning: a line that begins with # but has the cells of a row */
    HK_CODE_LINE_DOUBLED,   /* warning: a duplicate row, in a file where duplicates are unlikely */
    HK_CODE_ROLE_UNUSED,    /* warning: no part is worked in this role of yarns.csv */
    HK_CODE_FABRIC_HIDES,   /* warning: a fabric of the project has the name of a shipped fabric */
    HK_CODE_SWATCH_DOUBLED, /* warning: a weighing found in two folders, counted once; or two different weighings of
                             * one swatch */
    HK_CODE_SIZE_WITHOUT,   /* warning: a size of the project has no parts */
    HK_CODE_SIZE_EMPTY,     /* no size asked for has parts */
    HK_CODE_CANCELLED,      /* the host ended the search (struct hk_watch) */
    HK_CODE_PRINT_LEFT,     /* warning: a word or number that the reprinted pattern keeps unchanged */
    HK_CODE_PRINT_DIFFERS,  /* a row of the reprinted pattern has another result */
    HK_CODE_TESTER,         /* an impossible row of testers.csv: the same yarn twice, or none that is worked */
    HK_CODE_OK_UNUSED,      /* note: a row accepts a code that no finding about it has */
    HK_CODE_END
};

struct hk_place {
    const char *file;    /* its name in the source */
    size_t line, column; /* from 1, columns in characters; line 0: the whole file */
};

struct hk_finding {
    enum hk_code code;
    struct hk_place at;
    const char *message; /* what was found */
    const char *hint;    /* how to correct it, or NULL */
};

/*
 * A list of findings. Initialise it as {0}. It owns its texts, keeps the first HK_FINDINGS_MOST findings and counts the
 * rest. The fields are private: a host uses the functions below.
 */
#define HK_FINDINGS_MOST 1000
struct hk_acceptances;
struct hk_diags {
    struct hk_finding *findings;
    size_t count, capacity;
    size_t errors;  /* counts dropped errors too */
    size_t dropped;
    size_t hinting; /* 1 + the index of the finding that the next hint belongs to; 0: none */
    struct hk_acceptances *acceptances; /* NULL: none; owner: the list */
    bool machine, out_of_memory;
};

HK_API void hk_diags_free(struct hk_diags *diags);
/* Returns true when there is no error and memory did not run out. */
HK_API bool hk_diags_ok(const struct hk_diags *diags);
/*
 * The number of kept findings, and finding i, counted from 0; NULL beyond the last. The pointer is valid until the list
 * grows, is sorted or freed.
 */
HK_API size_t hk_diags_count(const struct hk_diags *diags);
HK_API const struct hk_finding *hk_diags_finding(const struct hk_diags *diags, size_t i);
/* The number of findings beyond HK_FINDINGS_MOST, and the number of all errors, dropped ones included. */
HK_API size_t hk_diags_dropped(const struct hk_diags *diags);
HK_API size_t hk_diags_errors(const struct hk_diags *diags);
/* Returns true when the machine failed, not the user: a file could not be read, or GLPK failed. */
HK_API bool hk_diags_machine_failed(const struct hk_diags *diags);
/*
 * Returns true when memory ran out, so findings may be missing from the list. A host that runs out of memory may set
 * this too.
 */
HK_API bool hk_diags_out_of_memory(const struct hk_diags *diags);
HK_API void hk_diags_set_out_of_memory(struct hk_diags *diags);
/*
 * A row of a project file may accept warnings and notes: its column `ok` holds their codes. Their findings about that row
 * are set aside: hk_diags_count does not count them. hk_diags_accepted returns their number, and
 * hk_diags_accepted_finding number i of them, counted from 0; NULL beyond the last, and beyond the HK_FINDINGS_MOST that
 * are kept. The pointer is valid as that of hk_diags_finding.
 *
 * What is accepted belongs to the list that hk_project_read was given. Later stages find it if they are given the same
 * list, or one that took it over by hk_diags_accept_as. Returns false when out of memory; `diags` has that too.
 */
HK_API size_t hk_diags_accepted(const struct hk_diags *diags);
HK_API const struct hk_finding *hk_diags_accepted_finding(const struct hk_diags *diags, size_t i);
HK_API bool hk_diags_accept_as(struct hk_diags *diags, const struct hk_diags *project);
/*
 * Adds a finding of the host, about a source that it made itself, such as a document with its files inside. Copies the
 * texts and the file name; hint may be NULL.
 */
HK_API void hk_diags_report(struct hk_diags *diags, enum hk_code code, struct hk_place at, const char *message,
                            const char *hint);
/*
 * Adds the note HK_CODE_OK_UNUSED for each code that a row accepts in vain. For the list of hk_project_read, after
 * hk_need_predict for all sizes; codes that later stages may still add are left out.
 */
HK_API void hk_diags_unused(struct hk_diags *diags);
/*
 * Sorts by file (in the order of the manual's table of files, then by name), line and column; equals keep their order.
 */
HK_API void hk_diags_sort(struct hk_diags *diags);
/* The name in JSON, such as "column-unknown". Static; NULL for HK_CODE_END and above. */
HK_API const char *hk_code_name(enum hk_code code);
HK_API enum hk_severity hk_code_severity(enum hk_code code);

/* ---- Source: the input files ------------------------------------------------------------------------------------- */

/*
 * The identity of a file, independent of its name: equal for the same file, different for two files. All zero: unknown.
 */
struct hk_identity {
    uint64_t device, number;
};

/* A file open for reading. read returns the number of bytes read, 0 at the end, and -1 on failure with *why set. */
struct hk_file {
    void *handle;
    ptrdiff_t (*read)(void *handle, void *bytes, size_t count, const char **why);
    void (*close)(void *handle);
    struct hk_identity identity;
};

enum hk_open { HK_OPEN_DONE, HK_OPEN_ABSENT, HK_OPEN_REFUSED, HK_OPEN_NO_MEMORY };

/*
 * A project folder, or the folder of shipped tables. open takes a name such as "pieces.csv" or "../hat/swatches.csv"
 * and fills *file on HK_OPEN_DONE. On HK_OPEN_REFUSED it sets *why to the reason ("Permission denied"), static or owned
 * by the host. Several threads may call it at the same time.
 */
struct hk_source {
    void *host;
    enum hk_open (*open)(void *host, const char *name, struct hk_file *file, const char **why);
};

/*
 * The folder at `path`, which must live as long as the source. Names may lead out of the folder, as those of learn_from
 * do.
 */
HK_API struct hk_source hk_source_folder(const char *path);
/* The same, but names that lead out of the folder are refused: for folders from other people. */
HK_API struct hk_source hk_source_inside(const char *path);

/* Files as texts, by name; the array ends with a NULL name. Both must live as long as the source. */
struct hk_memory_file {
    const char *name, *text; /* "pieces.csv"; UTF-8 */
};
HK_API struct hk_source hk_source_memory(const struct hk_memory_file *files);

/* ---- Catalogue: the shipped tables --------------------------------------------------------------------------------- */

struct hk_catalogue;

/* Reads all shipped tables. NULL on any error; owner: the caller. */
HK_API struct hk_catalogue *hk_catalogue_read(const struct hk_source *source, struct hk_diags *diags);
HK_API void hk_catalogue_free(struct hk_catalogue *catalogue);

/* The tables as rows of text, for display. Column and cell texts live as long as the catalogue. */
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
 * Work in progress typed in place of rows of progress.csv, and the yarn for it; a text may be NULL: not stated. The
 * findings about a text have its option in place of a file, and the column in it: "--done", line 1.
 */
struct hk_hand {
    const char *size; /* NULL: the only size of the project, or of its progress.csv */
    const char *done; /* "back, front 40 rows": pieces, a part after its piece, rows from the first */
    const char
        *used; /* "118 g", or "main 118 g, trim 20 g": what they weigh, on a scale with the step of the last digit */
    const char *left; /* "37 g": the yarn that is left, on the scale now; "37 g, 2 balls": with two full ones */
    const char *have; /* "4 balls", "main 4 balls, trim 60 g": full balls, or grams by the label, before the work */
};

/*
 * As hk_project_read. What was typed stands below the rows of progress.csv: of the same work and yarn it counts in
 * their place. Nothing in `hand` is kept.
 */
HK_API struct hk_project *hk_project_read_hand(const struct hk_source *source, const struct hk_catalogue *catalogue,
                                               const struct hk_hand *hand, struct hk_diags *diags);

/*
 * The sizes, roles and yarns alone, of project.csv and yarns.csv, whatever is wrong with the other files. No stage
 * comes of it. NULL on any error in these two. Borrows the catalogue.
 */
HK_API struct hk_project *hk_project_read_names(const struct hk_source *source, const struct hk_catalogue *catalogue,
                                                struct hk_diags *diags);

/* The names of the files that a folder may hold, in the order of the manual: "project.csv". Static; NULL beyond the
 * last. */
HK_API const char *hk_project_file(size_t i);
/* The kinds of costs.csv: "material", and the meaning in a line. Static; NULL beyond the last. */
HK_API const char *hk_cost_kind(size_t i, const char **meaning);

HK_API const char *hk_project_title(const struct hk_project *project);
HK_API size_t hk_project_sizes(const struct hk_project *project);
HK_API const char *hk_project_size(const struct hk_project *project, size_t size);
/*
 * The index of the size with this name, whatever its letter case and signs; else HK_NO_SIZE, with *nearest set if a
 * size is probably meant: 2X by "XXL".
 */
HK_API size_t hk_project_find_size(const struct hk_project *project, const char *name, const char **nearest);
/* The size in progress: the only one, or the only one of progress.csv and of struct hk_hand; HK_NO_SIZE: none, or
 * several. */
HK_API size_t hk_project_size_in_hand(const struct hk_project *project);
HK_API bool hk_project_uk_terms(const struct hk_project *project);
HK_API const char *hk_project_currency(const struct hk_project *project); /* "EUR", or "" where none is stated */
/* The digits after the point of the project's currency; 2 where none is stated. */
HK_API int hk_project_minor_digits(const struct hk_project *project);
/* Parses an amount of money as typed, "95" or "EUR 95.00", in the project's currency. The findings have no place. */
HK_API bool hk_project_money(const struct hk_project *project, const char *text, int64_t *minor, struct hk_diags *diags);

/* A role and the yarn that is planned for it. */
struct hk_project_role {
    const char *name, *yarn, *colour; /* colour "" where none is stated */
};

/* A yarn, whatever its roles and colours. */
struct hk_project_yarn {
    const char *name, *fibre;           /* fibre "" where none is stated */
    double put_up_g, put_up_m;          /* of one ball, by the label */
    double diameter_mm;                 /* by wraps per inch where they are stated, else by the label */
};

struct hk_project_swatch {
    const char *name, *fabric;
    double tool_mm;
    int64_t stitches, rows;             /* of one copy; stitches 0: it starts from a ring or continues */
    int64_t copies;                     /* identical copies, weighed or timed together */
    double gauge_stitches, gauge_rows;  /* in 10 cm; 0: not known */
    double mass_g, scale_step_g;        /* 0: not weighed */
    double unravelled_m;                /* 0: not unravelled */
    double minutes;                     /* 0: not timed */
    struct hk_place at;
};

/* In the order of their files. Texts live as long as the project. An index must be below the count. */
HK_API size_t hk_project_roles(const struct hk_project *project);
HK_API struct hk_project_role hk_project_role(const struct hk_project *project, size_t role);
HK_API size_t hk_project_yarns(const struct hk_project *project);
HK_API struct hk_project_yarn hk_project_yarn(const struct hk_project *project, size_t yarn);
HK_API size_t hk_project_swatches(const struct hk_project *project);
HK_API struct hk_project_swatch hk_project_swatch(const struct hk_project *project, size_t swatch);

/* What the letter to a client states of the maker; texts are "" where project.csv does not state them. */
struct hk_project_letter {
    const char *maker, *place, *care;
    const char *conditions;         /* the terms of the sale in one line */
    int64_t valid_days, ready_days; /* how long the offer is valid, and when the piece is ready; 0: not stated */
    bool valid_weeks, ready_weeks;  /* stated in weeks */
    bool tax_separately;            /* the price is shown before tax, with the tax beside it */
};
HK_API struct hk_project_letter hk_project_letter(const struct hk_project *project);

/* A finished measurement of grade.csv that is marked for print, in one size; in the order of the file. */
struct hk_project_measure {
    const char *name;
    double length_m; /* NAN: it is a count */
    int64_t count;   /* of a length, or of a size without it, 0 */
};
HK_API size_t hk_project_measures(const struct hk_project *project);
HK_API struct hk_project_measure hk_project_measure(const struct hk_project *project, size_t measure, size_t size);

/* A row of costs.csv, in the order of the file, and whether a piece made to order includes it. */
enum hk_included { HK_INCLUDED_NOT, HK_INCLUDED_NOTION, HK_INCLUDED_WORK, HK_INCLUDED_POSTAGE };
struct hk_project_cost {
    const char *item;
    enum hk_included included; /* NOT: a share of the price, the pay for the work itself, of a kit or pattern, packaging
                                * (print,no), or something that the size does without */
    double quantity;           /* of the item; hours of work; NAN: not stated */
};
HK_API size_t hk_project_costs(const struct hk_project *project);
HK_API struct hk_project_cost hk_project_cost(const struct hk_project *project, size_t cost, size_t size);

/* ---- A written pattern: pattern.txt, row by row ---- */

/* Returns true when the project has a written pattern that could be read. */
HK_API bool hk_project_written(const struct hk_project *project);

struct hk_written_places {
    const char *kind; /* "sc", "ch-2 sp", "st" where it is not known, in the project's terms */
    int64_t count;
};

struct hk_written_stated {
    const char *what; /* "sts", "dc", "ch-2 sp", "sts more" */
    int64_t stated, actual;
};

/*
 * The result of a row line of pattern.txt in one size; for a range of rows, the result after its last row. Texts and
 * arrays live as long as the project.
 */
struct hk_written_row {
    const char *file, *piece, *part, *label; /* part and label: "" if absent */
    const char *words;                       /* as written, without the label */
    size_t line;
    bool there;       /* the size has the row */
    bool worked;      /* false: it could not be worked, and nothing below is known */
    bool from_stated; /* worked on the stated count of the row below, which could not be worked */
    int64_t rows;
    int64_t stitches;                       /* by the readings taken */
    int64_t left;                           /* places left unworked */
    const struct hk_written_places *places; /* the edge that the row leaves, by kind */
    size_t place_count;
    const struct hk_written_places
        *on_hold; /* the stitches that it puts on hold, by name: "left sleeve", or "stitches" */
    size_t on_hold_count;
    const struct hk_written_stated *stated;
    size_t stated_count;
    bool agrees;                 /* with all counts that it states */
    const char *const *readings; /* how ambiguous wording was read: "ch 3 counts as dc" */
    size_t reading_count;
};

HK_API size_t hk_written_rows(const struct hk_project *project);
HK_API struct hk_written_row hk_written_row(const struct hk_project *project, size_t row, size_t size);

/*
 * The width of a row of pattern.txt in one size (the circumference of a round), in metres. A space of n chains is as
 * wide as n stitches. 0 when no swatch of the row's most frequent stitch has a gauge.
 */
HK_API double hk_written_row_width(const struct hk_project *project, size_t row, size_t size);

/* Text i of the assumptions made for the whole pattern; NULL at the end. */
HK_API const char *hk_written_choice(const struct hk_project *project, size_t i);

/*
 * Prose line i, which is not read as a row; NULL at the end. *work: it describes work within a piece, for which no yarn
 * is counted.
 */
HK_API const char *hk_written_prose(const struct hk_project *project, size_t i, size_t *line, bool *work);

/*
 * Stitches of one kind in one size. Chains and slip stitches are included; an increase counts as the stitches that it
 * makes.
 */
struct hk_stitch_total {
    size_t size;
    const char *stitch;
    int64_t count;
};

/* The totals of pattern.txt alone, by size. *complete is false when rows that could not be worked are missing. */
HK_API const struct hk_stitch_total *hk_written_totals(const struct hk_project *project, size_t *count, bool *complete);

/* ---- A written pattern printed again: for one size, in the other terms ---- */

struct hk_reprint;
enum hk_terms_wanted { HK_TERMS_WANTED_PROJECT, HK_TERMS_WANTED_US, HK_TERMS_WANTED_UK };

struct hk_reprint_options {
    size_t size; /* HK_NO_SIZE: all */
    enum hk_terms_wanted terms;
    bool markdown; /* print Markdown when the pattern is not in Markdown already */
};

/* A word or number that is printed differently; `after` is "" when it is left out. */
struct hk_reprint_change {
    size_t line, column; /* in pattern.txt */
    const char *before, *after;
};

/*
 * Prints pattern.txt for one size, in the other terms, or both. Prose is kept, except for graded numbers and
 * unambiguous words. Findings: a warning for each word left unchanged, and an error for each row that has another
 * result when the printed text is read again; the text is returned all the same. NULL when there is no pattern or
 * memory runs out. Borrows the project; owner: the caller.
 */
HK_API struct hk_reprint *hk_reprint_make(const struct hk_project *project, struct hk_reprint_options options,
                                          struct hk_diags *diags);
HK_API void hk_reprint_free(struct hk_reprint *reprint);
HK_API const char *hk_reprint_text(const struct hk_reprint *reprint);
HK_API size_t hk_reprint_changes(const struct hk_reprint *reprint);
HK_API struct hk_reprint_change hk_reprint_change(const struct hk_reprint *reprint, size_t i);

/* ---- Settings from a written pattern, to begin a project with ---- */

struct hk_text_yarn {
    const char *role;                            /* its name in the rows: "MC", "A" */
    const char *yarn, *put_up, *length, *colour; /* from its label, as written; "" if the text does not state it */
};

/* It owns all texts; "" or 0 if the pattern does not state a value. */
struct hk_text_settings {
    const char *title;
    const char *const *sizes;
    size_t size_count;    /* 0: none are named */
    size_t graded;        /* the number of values in a graded number; 0: there are no graded numbers */
    bool terms_named, uk; /* uk: stated, or its words exist in UK terms only */
    const struct hk_text_yarn *yarns;
    size_t yarn_count;
    const double *tools_mm; /* all hooks and needles named in the text, ascending */
    size_t tool_count;
    double gauge_stitches, gauge_rows; /* in 10 cm */
    double gauge_tool_mm;
    const char *gauge_fabric; /* a shipped fabric */
    const char *text;         /* the whole file, as UTF-8 */
    size_t bytes;
    void *inside;
};

/* Reads a file of the source. NULL on any error; owner: the caller. The settings may outlive the catalogue. */
HK_API struct hk_text_settings *hk_text_settings_read(const struct hk_source *source, const char *name,
                                                      const struct hk_catalogue *catalogue, struct hk_diags *diags);
HK_API void hk_text_settings_free(struct hk_text_settings *settings);

/* ---- Tally: stitch counts by line and size ------------------------------------------------------------------------- */

struct hk_tally;

/* Counts every line of pieces.csv in every size and every swatch. NULL on any error. Borrows the project. */
HK_API struct hk_tally *hk_tally_count(const struct hk_project *project, struct hk_diags *diags);
HK_API void hk_tally_free(struct hk_tally *tally);

/* Rows `first` to `last` of a line: the first leaves `stitches`, and each leaves `step` more than the row before. */
struct hk_row_run {
    int64_t first, last, stitches, step;
};

/*
 * A length of pieces.csv as it is worked: rounded to whole stitches or rows, and the length of these by the gauge of a
 * swatch. Widths that fit the fabric are `apart` stitches from each other (0: no other width fits; rows and tapers: 1).
 */
struct hk_length_worked {
    double asked_m, finished_m;
    int64_t count, apart; /* count 0: no length was given */
    bool inches;          /* the length was given in inches: it is a whole number of sixteenths */
    const char *swatch;   /* the name of the swatch */
};

/* The count of a line of pieces.csv, or of a part of pattern.txt, in one size. Texts are borrowed from the project. */
struct hk_line_count {
    const char *piece, *part, *fabric;
    size_t line;        /* its first line in pattern.txt or pieces.csv */
    bool written;       /* from pattern.txt: `fabric` is one with mostly the same stitch */
    int64_t times;      /* 0: this size does not have it */
    int64_t foundation; /* chains, or stitches cast on; 0: none */
    const struct hk_row_run *runs;
    size_t run_count;
    struct hk_length_worked width, end_width, height;
};

HK_API size_t hk_tally_lines(const struct hk_tally *tally);
/* The totals of the whole project, all copies included, by size. */
HK_API const struct hk_stitch_total *hk_tally_totals(const struct hk_tally *tally, size_t *count);
HK_API struct hk_line_count hk_tally_line(const struct hk_tally *tally, size_t line, size_t size);
/*
 * The width of a number of stitches of a line by the gauge of a swatch of its fabric, in metres; 0 when no swatch has a
 * gauge.
 */
HK_API double hk_tally_row_width(const struct hk_tally *tally, size_t line, int64_t stitches);
/* The height of a number of rows of a line, likewise. */
HK_API double hk_tally_row_height(const struct hk_tally *tally, size_t line, int64_t rows);

/*
 * The stripes of a line, which repeat from its first row; a line in one yarn has one, of INT64_MAX rows. Each is worked
 * in the yarn of one role, or in those of several held together.
 */
HK_API size_t hk_tally_stripes(const struct hk_tally *tally, size_t line);
HK_API int64_t hk_tally_stripe_rows(const struct hk_tally *tally, size_t line, size_t stripe);
HK_API size_t hk_tally_stripe_roles(const struct hk_tally *tally, size_t line, size_t stripe);
/* The role held at `index`, by its index in the project, as in hk_need_role; several strands of one role count once. */
HK_API size_t hk_tally_stripe_role(const struct hk_tally *tally, size_t line, size_t stripe, size_t index);
/* Returns the stripe of a row of a line; rows count from 1. */
HK_API size_t hk_tally_row_stripe(const struct hk_tally *tally, size_t line, int64_t row);

/*
 * ---- Fit: the maker's departures, estimated from weighings
 * -----------------------------------------------------------------
 */

struct hk_fit;
struct hk_time_fit; /* a type of its own: its quantity is time */

/*
 * The maximum a posteriori fit of everything weighed, timed or unravelled. NULL on any error. Borrows the tally. A
 * reading so far from all others that it must be a slip is left out, with a warning (HK_CODE_OUTLIER), unless its row
 * accepts the warning.
 */
HK_API struct hk_fit *hk_fit_make(const struct hk_tally *tally, struct hk_diags *diags);
/*
 * The same model fitted to everything timed, in seconds instead of metres (DEVELOPERS.md). With nothing timed, the
 * result is the prior.
 */
HK_API struct hk_time_fit *hk_fit_time(const struct hk_tally *tally, struct hk_diags *diags);
HK_API void hk_time_fit_free(struct hk_time_fit *time);
HK_API void hk_fit_free(struct hk_fit *fit);

/*
 * ---- Evidence: the influence of each reading
 * ------------------------------------------------------------------------------
 */

enum hk_evidence_kind {
    HK_EVIDENCE_SWATCH, /* weighed, g */
    HK_EVIDENCE_LENGTH, /* unravelled, m */
    HK_EVIDENCE_GRIST,  /* weighed and unravelled, g/m */
    HK_EVIDENCE_PIECE,  /* of progress.csv, here or learned: g used */
    HK_EVIDENCE_BALL,   /* a full ball, g */
    HK_EVIDENCE_TESTER, /* of testers.csv: g of the label used for the whole design */
};

enum hk_departure {
    HK_DEPARTURE_WRAPS,   /* the length of a yarn-over relative to a full loop */
    HK_DEPARTURE_TENSION, /* the maker's tension in the craft `of` */
    HK_DEPARTURE_STITCH,  /* the stitch `of`, from the loop rule */
    HK_DEPARTURE_TOOL,    /* the tool of `tool_mm`, from the loop rule */
    HK_DEPARTURE_YARN,    /* the yarns `of`, from the loop rule */
    HK_DEPARTURE_GRIST,   /* grams per metre of the yarn `of`, from its label */
    HK_DEPARTURE_MAKING,  /* this making, of size `of`, from other makings */
    HK_DEPARTURE_GARMENT, /* garments from swatches in the craft `of` */
    HK_DEPARTURE_SCALE,   /* the offset in grams of the scale with the step step_g */
    HK_DEPARTURE_BALL,    /* the mass of a ball of the yarn `of` on the scale, from its label */
    HK_DEPARTURE_READERS, /* readers at the pattern's gauge, from its maker */
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
    double read, expected;                    /* expected: from all other readings and the loop rule */
    double deviations;                        /* read - expected, in standard deviations of the expectation */
    bool left_out;                            /* so far from it that it is not in the fit */
    const struct hk_evidence_change *changes; /* the effect of the reading, largest first; `from` is without it */
    size_t change_count;
};

struct hk_evidence {
    const struct hk_evidence_reading *readings; /* swatches, pieces and balls by file, then learned ones */
    size_t count;
};

/* Explains every reading of a fit. NULL when memory runs out. Borrows the fit; owner: the caller. */
HK_API struct hk_evidence *hk_evidence_explain(const struct hk_fit *fit, struct hk_diags *diags);
HK_API void hk_evidence_free(struct hk_evidence *evidence);

/* ---- Need: how much yarn ------------------------------------------------------------------------------------------- */

struct hk_range {
    double likely, low, high; /* the median and the 5% and 95% quantiles */
    double enough;            /* the quantile at the chance, or likely plus the flat margin */
};

struct hk_need_role {
    size_t size, role;
    const char *size_name, *role_name, *yarn, *colour;
    const char *rgb;  /* "#rrggbb" of yarns.csv, or "" */
    int64_t stitches; /* of every kind, each counted once whatever the strands; tapers rounded half up */
    double loops;
    struct hk_range length_m, mass_g;
    double spread, spread_mass; /* standard deviations of ln length and ln mass */
    double chance;              /* that `enough` is enough */
    double put_up_g, put_up_m;
    double join_g; /* the yarn that one join wastes */
    int64_t balls; /* balls of the planned yarn, joins included */
};

struct hk_need_part {
    size_t size, role;
    const char *size_name, *piece, *part, *role_name;
    int64_t stitches;
    double length_m, mass_g, enough_g; /* all copies, tails included; they add up to the role's */
    double share;                      /* of the role's likely grams in that size */
};

/* The likely yarn of one kind of stitch of a role in a size; without a stitch, of its ends and cut lengths. */
struct hk_need_stitch {
    size_t size, role;
    const char *size_name, *role_name;
    const char *stitch;             /* in the project's terms; "" for ends and cut lengths */
    double count;                   /* all copies, each counted once whatever the strands; tapers give fractions */
    double length_m, mass_g, share; /* they add up to the role's; share 1 */
};

/* A cause of the width of a role's range, and its remedy. */
enum hk_cause {
    HK_CAUSE_NOTHING_WEIGHED, /* nothing of this craft: the loop rule alone; remedy: a swatch of `fabric` with `tool_mm`
                               */
    HK_CAUSE_SCALE,   /* step and accuracy of the scale of `swatch`; remedy: a finer scale, `rows` rows or `copies` */
    HK_CAUSE_STITCH,  /* `stitch` of the design is in no swatch; remedy: a swatch of `fabric` with `tool_mm` */
    HK_CAUSE_TOOL,    /* `tool_mm` was used for no swatch; remedy: as above */
    HK_CAUSE_YARN,    /* `yarn`, or this combination of yarns, is in no swatch; remedy: as above */
    HK_CAUSE_ONE_DAY, /* a swatch is one day's work; remedy: another of `fabric` with `tool_mm`, on another day */
    HK_CAUSE_GRIST,   /* the label's grams per metre; remedy: unravel and measure `swatch`, which was weighed */
    HK_CAUSE_GARMENT, /* a garment differs from a swatch; remedy: weigh a finished `piece`, or the yarn of
                       * role `yarn` in it */
    HK_CAUSE_BALL,    /* the mass of a ball of `yarn` on this scale, in room air; remedy: weigh a full ball */
    HK_CAUSE_MAKING,  /* days and pieces differ; no measurement before the work reduces this */
};

/*
 * Each remedy is evaluated alone: shares may add up to more than 1, and the promised spread assumes that only this
 * remedy is applied. A new swatch can be worked, uses the role's yarn with the strands of the line, and has two ends.
 * Causes below 3% are not listed, since the displayed spread would not change; MAKING is always listed.
 */
struct hk_need_why {
    size_t role; /* index into hk_need.roles */
    enum hk_cause cause;
    double share; /* share of the variance of ln mass that the remedy removes; MAKING: that no weighing removes */
    double spread_mass_then; /* the spread of ln mass after the remedy; MAKING: after all remedies */
    const char *swatch, *stitch, *yarn, *fabric, *piece; /* the names that the cause uses, else NULL; stitch in the
                                                          * project's terms */
    double tool_mm;                                      /* 0 where not relevant */
    double scale_step_g, scale_accuracy_g; /* SCALE: of the scale that was used; else 0 */
    double new_step_g; /* step and accuracy of the scale that the promised spread assumes; 0 where not relevant */
    int64_t stitches;         /* of a new swatch; 0: it starts from a ring */
    int64_t rows;             /* of a new swatch; SCALE: rows of this swatch that remove nine tenths of the share */
    int64_t copies;           /* SCALE: the identical copies, weighed together, that remove nine tenths of the share;
                               * 0: too many */
};

/*
 * Yarn that the work in progress has used, by its weighings in progress.csv: one size, and one yarn that was weighed by
 * itself.
 */
struct hk_need_used {
    size_t size;
    const char *size_name, *of; /* a role, or a yarn of several; "": several yarns weighed together */
    double mass_g;
};

struct hk_need_options {
    double chance; /* in (0, 1), replaces a flat margin too; 0: as the project states */
    size_t size;   /* HK_NO_SIZE: all sizes */
};

struct hk_need {
    const char *project;     /* its title */
    double chance, margin;   /* margin: the flat margin, or -1 */
    size_t evidence;         /* the number of readings in the fit */
    size_t evidence_progress; /* of these, weighings of the work in progress (progress.csv), */
    size_t evidence_learned; /* of finished work in other projects, */
    size_t evidence_balls;   /* and of full balls; */
    size_t evidence_testers; /* and testers' */
    size_t left_out;         /* readings of the maker's own that are not in the fit, so far are they from all others */
    size_t size_count;
    const char *const *sizes;         /* all sizes of the project; `size` below is an index into them */
    const struct hk_need_role *roles; /* by size, then role in the order of yarns.csv */
    size_t role_count;
    const struct hk_need_part *parts; /* by size, line of pieces.csv, then role */
    size_t part_count;
    const struct hk_need_stitch *stitches; /* by size and role as above, the most yarn first, ends last */
    size_t stitch_count;
    const double *covariance;         /* role_count x role_count, of ln mass */
    const struct hk_need_why *why;    /* the causes of each role, in the middle size asked for; largest share first,
                                       * MAKING last */
    size_t why_count;
    bool in_hand;                    /* progress.csv has work in progress; the prediction is for a new making all
                                      * the same */
    const struct hk_need_used *used; /* by the work in progress, in all sizes; in the order of progress.csv */
    size_t used_count;
};

HK_API struct hk_need_options hk_need_defaults(void);
/* Predicts all roles and sizes together. NULL on any error. Borrows the fit; owner: the caller. */
HK_API struct hk_need *hk_need_predict(const struct hk_fit *fit, struct hk_need_options options, struct hk_diags *diags);
HK_API void hk_need_free(struct hk_need *need);

/* A row of the work, and its last row where a ball ends. */
struct hk_ball_place {
    const char *piece, *part; /* "": before the first row is finished, or not before the work ends */
    int64_t copy, row;        /* from 1; row 0: the rows of that part are not known */
    int64_t copies;           /* of the part in the design */
};

/* The last row that a ball, with those before it, finishes: by the likely amount, and the ends of the range (5%, 95%).
 */
struct hk_ball_end {
    int64_t ball; /* from 1 */
    struct hk_ball_place likely, earliest, latest;
};

struct hk_ball_ends {
    const struct hk_ball_end *ends; /* of every ball but the last; none where the rows are not known */
    size_t count;
};

/*
 * Where each ball of roles[at] ends, in the order of the lines of the project, copy after copy. NULL when memory runs
 * out. Borrows the need; owner: the caller.
 */
HK_API struct hk_ball_ends *hk_need_ball_ends(const struct hk_need *need, size_t at, struct hk_diags *diags);
HK_API void hk_need_ball_ends_free(struct hk_ball_ends *ends);

/* ---- Left: the rest of the work in hand
 * ------------------------------------------------------------------------------- */

/* Work that is done, by a row of progress.csv or as typed. */
struct hk_remaining_done {
    const char *work; /* "back, body, 40 rows"; of several weighed together "back; front, 40 rows" */
    const char *of;   /* the yarn weighed: a role or a yarn, or "" for all yarns; "" too where nothing was weighed */
    double mass_g;    /* what was used; 0: not weighed */
    bool left_out;    /* so far from all other weighings that the forecast does not follow it */
};

/* Work to come of one line in one role. */
struct hk_remaining_part {
    size_t role; /* index into hk_remaining.roles */
    const char *piece, *part;
    int64_t copy, copies;    /* the first of them, from 1, and how many; of which */
    int64_t rows_done, rows; /* rows of each that are worked, of how many; rows 0: not known */
    struct hk_range mass_g;
    /*
     * The last row at which to stop before this line, so that the yarn in hand is enough, at the chance, for it and all
     * behind it; piece "": none, or the yarn in hand is not known. Not set for the first line to come, or where the
     * yarn is enough for everything.
     */
    bool must_stop;
    struct hk_ball_place stop;
};

struct hk_remaining_role {
    size_t role;
    const char *role_name, *yarn, *colour;
    double used_g;          /* of this role by the weighings of this making */
    bool shared;            /* several yarns were weighed together, and shared out by the fit */
    bool odd;               /* a part of used_g is by a weighing that the forecast does not follow */
    bool worked;            /* some work of this role is done */
    struct hk_range mass_g; /* to come */
    double spread;          /* of ln mass; 0: nothing is to come */
    bool known;             /* what is in hand is known; else the four below are 0 */
    bool weighed;           /* it is on the scale now; else balls at the start without what is used */
    double in_hand_g;
    double unweighed_g;  /* of it, the likely yarn of work that is done and not weighed */
    double chance;       /* that it lasts */
    double missing_g; /* of the yarn before the work, neither used nor left; negative: there is more than there was */
    double joins_g;   /* of it, what the joins of all its balls waste */
    double put_up_g;  /* by the label */
    double ball_weighs_g; /* a full ball, likely, on the scale */
    bool by_label;        /* some of the figures follow from the labels of balls */
    int64_t order;       /* balls to order now, so that the yarn is enough at the chance; 0: none */
    double order_chance; /* with them */
    const char *lot;     /* of the yarn in hand; "": not stated */
    const char *shop;    /* one that has the lot, or, where no lot is stated, the yarn; "": none */
    int64_t stock;       /* of it there; -1: not stated */
    double ball_g;       /* left of the ball in use, where it is known */
    const struct hk_ball_end
        *ends; /* of the ball in use and the others in hand, in the rows to come; none if not known */
    size_t end_count;
};

struct hk_remaining {
    const char *project, *size_name;
    size_t size;
    double chance, margin; /* margin: the flat margin, or -1 */
    size_t evidence;       /* the weighings of this making that the forecast follows, */
    size_t left_out;       /* and those that it does not, so far are they from all others */
    const struct hk_remaining_done *done;
    size_t done_count;
    const struct hk_remaining_role *roles; /* those of the size */
    size_t role_count;
    const struct hk_remaining_part *parts; /* to come, in the order of the work, by role */
    size_t part_count;
};

/*
 * Predicts what one size still takes, for the piece in hand: what was used is certain, and the making has the departure
 * that its own weighings show. Masses are grams on the maker's scale, so that the moisture of the room cancels. NULL on
 * any error. Borrows the need, which has that size; owner: the caller.
 */
HK_API struct hk_remaining *hk_remaining_predict(const struct hk_need *need, size_t size, struct hk_diags *diags);
HK_API void hk_remaining_free(struct hk_remaining *left);

/* ---- From: what the yarn in hand is enough for ----------------------------------------------------------------------
 */

/* One yarn of a design. */
struct hk_from_role {
    const char *role_name, *yarn, *colour;
    double have_g; /* grams by the label */
    double mass_g; /* likely use */
    double chance; /* that it is enough */
};

/* A design that the yarn may be enough for. */
struct hk_from_design {
    double chance; /* that every yarn is enough */
    bool enough;   /* each yarn is, as `need` would say */
    const struct hk_from_role *roles;
    size_t role_count;
    size_t first_out; /* the role that runs out first: the least chance */
};

/* A count of the design that the yarn in hand limits. */
enum hk_from_kind { HK_FROM_COPIES, HK_FROM_ROWS };
struct hk_from_count {
    enum hk_from_kind kind;
    const char *piece, *part;
    size_t size;
    int64_t designed;               /* as the files have it */
    const char *fixed;              /* why it cannot be varied: the members below are not set; NULL: it can */
    int64_t most;                   /* 0: not even one */
    bool unlimited;                 /* more than HK_FROM_MOST */
    double length_m;                /* of `most` rows by the gauge; 0: not known */
    struct hk_from_design at, next; /* with `most`, and with one more; roles NULL if there is none */
};
#define HK_FROM_MOST INT64_C(10000)

struct hk_from_size {
    size_t size;
    const char *size_name;
    struct hk_from_design design;
};

struct hk_from {
    const char *project;
    double chance, margin;
    const struct hk_from_size *sizes; /* those of the need */
    size_t size_count;
    const struct hk_from_count *counts;
    size_t count_count;
};

/* What to vary: "squares", or a part after its piece, "shawl body"; NULL: what suits the design, or nothing. */
struct hk_from_options {
    const char *vary;
};

/*
 * Answers what the yarn in hand is enough for: the sizes of the need, and the most copies or rows of a line. In hand is
 * what hk_project_read_hand was given, else the balls of the shop own in offers.csv. Each count is found by counting
 * and predicting the changed design, so that `need` says the same of it. NULL on any error. Borrows the need; owner:
 * the caller.
 */
HK_API struct hk_from *hk_from_find(const struct hk_need *need, struct hk_from_options options, struct hk_diags *diags);
HK_API void hk_from_free(struct hk_from *from);

/* ---- Design: from a folder to its need, in one call ------------------------------------------------------------------ */

/* All stages from the tables to the need. */
struct hk_design;

/*
 * Reads the tables and the project, counts, fits and predicts. NULL on any error. Borrows nothing: both sources may be
 * closed afterwards. Owner: the caller.
 */
HK_API struct hk_design *hk_design_read(const struct hk_source *tables, const struct hk_source *folder,
                                        struct hk_need_options options, struct hk_diags *diags);
HK_API void hk_design_free(struct hk_design *design);

/* The stages of the design; they live as long as it does. */
HK_API const struct hk_catalogue *hk_design_catalogue(const struct hk_design *design);
HK_API const struct hk_project *hk_design_project(const struct hk_design *design);
HK_API const struct hk_tally *hk_design_tally(const struct hk_design *design);
HK_API const struct hk_fit *hk_design_fit(const struct hk_design *design);
HK_API const struct hk_need *hk_design_need(const struct hk_design *design);

/* ---- Watching a long search ------------------------------------------------------------------------------------------- */

/*
 * go_on is called at the start of the search and repeatedly during it, on the thread that called the search. `done` is
 * the part of the time limit that is used, from 0 to 1, and never falls; most searches end long before 1. When go_on
 * returns false, the search ends soon with the finding HK_CODE_CANCELLED and no result, and go_on is not called again.
 * It must not call this library except on objects of other threads. NULL: the search is not watched.
 */
struct hk_watch {
    bool (*go_on)(void *host, double done);
    void *host;
};

/* ---- Shop: what to buy --------------------------------------------------------------------------------------------- */

struct hk_shop_line {
    const char *role, *yarn, *colour;
    const char *shop, *lot; /* "own": yarn at home; "": the price in yarns.csv; lot "": not stated */
    double put_up_g, put_up_m;
    int64_t balls;
    int64_t price_minor, cost_minor; /* -1: no price is stated */
    int64_t price_for;               /* the balls that price_minor pays for: 1, or those of a pack */
    int64_t worth_minor;             /* the cost; for balls at home their stated value or the yarn's price; or -1 */
};

/*
 * The effect of one ball more or fewer of a role than in the neighbouring step, or of one pack where only packs are
 * sold. Fewer: the basket without one ball, chosen for the highest remaining chance, then the lowest cost (a ball at
 * home only where there is no other). More: the basket with one more ball, chosen for the lowest cost, then the highest
 * chance.
 */
struct hk_shop_step {
    int64_t balls;
    int64_t cost_minor;         /* of the whole basket, all other roles as bought; -1: no price is stated */
    double chance, margin, left_over_m;  /* margin: (bought - joins) / likely - 1 */
    double expected_left_over_m;         /* the mean over all makings */
    const char *shop, *lot;              /* of the ball removed or added; NULL in the step of the basket itself */
    double put_up_g;
};

/* The rule that decided how much yarn is enough. */
enum hk_shop_basis { HK_SHOP_BASIS_CHANCE, HK_SHOP_BASIS_MARGIN, HK_SHOP_BASIS_LEAST_COST };

/*
 * Why this number of balls has the least expected cost, for one put-up and a cost of running short (the model of
 * DEVELOPERS.md). fewer_minor and more_minor are the extra expected costs, over all makings, of one ball fewer and one
 * ball more, in minor units; fewer_minor is HUGE_VAL when there is only one ball.
 */
struct hk_shop_reason {
    int64_t balls;
    double put_up_g;
    int64_t price_minor, price_for; /* at this number of balls, for price_for balls */
    double fewer_minor, more_minor;
    double short_chance, short_chance_fewer; /* the chance of running short with this number, and with one ball fewer */
    double spare_chance_more;                /* the chance that one ball more would be left over */
};

struct hk_shop_role {
    const char *role;
    double need_g;       /* enough, without joins; the yarn of swatches included */
    double likely_g;     /* the likely need, likewise */
    double swatch_use_g; /* the yarn of swatches, if the project includes it */
    double bought_g, joins_g, chance, margin, left_over_m;
    double deviation_m; /* the standard deviation of the role's length */
    enum hk_shop_basis basis;
    struct hk_shop_reason reason; /* if the basis is LEAST_COST; else zero */
    size_t lots;                  /* the number of lots bought; above 1 only where the project lets lots mix */
    bool own_left;                /* some balls at home are not used, since a role stays in one lot */
    const struct hk_shop_step
        *steps; /* from two balls fewer to two more; at least one ball, and no more than the stock */
    size_t step_count;
};

/* The bill of one shop. */
struct hk_shop_bill {
    const char *shop;
    int64_t goods_minor, postage_minor, discount_minor, total_minor;
};

/* A material besides yarn: a row of costs.csv of the kind material, for each piece. */
struct hk_shop_notion {
    const char *item;
    double quantity; /* of all makings: buttons, or what the item counts; one each where costs.csv states none */
    bool stated;
};

/* One basket, for one size or for all sizes together. */
struct hk_shop_size {
    const char *size;  /* "M", or "S + M + L" */
    int64_t times;     /* makings of each */
    const struct hk_shop_line *lines;
    size_t line_count;
    const struct hk_shop_role *roles;
    size_t role_count;
    const struct hk_shop_bill *bills; /* of the shops in the basket, and of the yarn at home */
    size_t bill_count;
    const struct hk_shop_notion *notions; /* in the order of costs.csv; their cost is not in the basket */
    size_t notion_count;
    int64_t goods_minor, postage_minor, discount_minor, total_minor; /* sums over the lines that have a price */
    bool priced;                                                     /* every line has a price */
    double chance_all;
    bool proven;       /* no cheaper basket exists */
    double gap;        /* if not proven: the cheapest basket is at most this ratio below the total */
};

struct hk_shop {
    const char *project, *currency;
    int minor_digits;
    double chance, margin; /* margin: flat, or -1 */
    int64_t short_cost_minor; /* the cost of running short, if it decided; else -1 */
    double spare_worth;       /* the part of its price that a left-over ball keeps */
    bool offers;              /* there are offers besides the prices in yarns.csv */
    bool lots_apart;          /* each role stays in one dye lot; an offer without a lot is a lot of its own */
    const struct hk_shop_size *sizes;
    size_t size_count;
};

struct hk_shop_options {
    double seconds;  /* time limit of the search for each basket; > 0 */
    bool together;   /* one basket for all sizes of the need instead of one for each */
    int64_t times;   /* makings of each size; 1 to HK_SHOP_TIMES_MOST */
    bool by_chance;  /* the chance or margin of the need decides, even where the project states short_cost */
    bool unpriced_silent; /* do not report a yarn without a price: the host reports it, as hk_quote_make does */
    struct hk_watch watch;
};
#define HK_SHOP_TIMES_MOST 10000

HK_API struct hk_shop_options hk_shop_defaults(void); /* 10 s, each size on its own, once */

/*
 * Finds the cheapest basket for every size asked for, from offers.csv and shops.csv, and from yarns.csv for a role
 * without offers. A yarn without a price is a warning (HK_CODE_PRICE_MISSING): its balls are counted, its cost is not.
 * NULL on any error, also on HK_CODE_STOCK_SHORT and HK_CODE_STOCK_LOTS, when no basket is enough. Owns the calling
 * thread's GLPK environment during the call; a host with GLPK problems of its own must call this on another thread.
 * Borrows the need; owner: the caller.
 */
HK_API struct hk_shop *hk_shop_plan(const struct hk_need *need, struct hk_shop_options options, struct hk_diags *diags);
HK_API void hk_shop_free(struct hk_shop *shop);

/* ---- Hours: how long a design takes -------------------------------------------------------------------------------------- */

struct hk_hours_part {
    const char *piece, *part;
    double worked_h, ends_h; /* likely, all copies */
    double ends;             /* the number of ends woven in */
};

struct hk_hours_size {
    size_t size;
    const char *size_name;
    struct hk_range hours;   /* h: the median, the 5% and 95% quantiles; `enough` is the median */
    double spread;           /* standard deviation of ln hours */
    double worked_h, ends_h; /* likely; they add up to hours.likely */
    double ends;
    const struct hk_hours_part *parts; /* the lines of pieces.csv that this size has */
    size_t part_count;
};

/* A kind of stitch on a tool: seconds per stitch, in any yarn of the design, without the variation between days. */
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
    size_t evidence; /* the number of timings */
    double end_min;  /* minutes per end */
    const struct hk_hours_size *sizes;
    size_t size_count;
    size_t stitch_size; /* index into the project's sizes: the size asked for, or the middle one */
    const struct hk_hours_stitch *stitches;
    size_t stitch_count;
};

/* Predicts hours by size (HK_NO_SIZE: all) from hk_fit_time. NULL on any error. Borrows the fit; owner: the caller. */
HK_API struct hk_hours *hk_hours_predict(const struct hk_time_fit *time, size_t size, struct hk_diags *diags);
HK_API void hk_hours_free(struct hk_hours *hours);

/* ---- Compare: other yarns for a role ---------------------------------------------------------------------------- */

/* A list of yarns from outside the design. */
struct hk_yarn_list;

/*
 * Reads a file with the columns of yarns.csv (roles are ignored; one name may have several put-ups and colours); prices
 * are in the project's currency. NULL on any error. Borrows the project; owner: the caller.
 */
HK_API struct hk_yarn_list *hk_yarn_list_read(const struct hk_source *source, const char *name,
                                              const struct hk_project *project, struct hk_diags *diags);
HK_API void hk_yarn_list_free(struct hk_yarn_list *list);

enum hk_verdict { HK_VERDICT_FITS, HK_VERDICT_OTHER_TOOL, HK_VERDICT_DIFFERS };

/* The reason for a verdict. */
enum hk_reason {
    HK_REASON_GAUGE,      /* FITS: stitches are within 3% of their size in the planned yarn */
    HK_REASON_TOOL,       /* OTHER_TOOL: they are with `keeping_tool_mm` */
    HK_REASON_CATEGORY,   /* DIFFERS: no yarn category in common with the planned yarn */
    HK_REASON_THICKNESS,  /* DIFFERS: over a quarter thicker or a fifth thinner, so the fabric differs with any tool */
    HK_REASON_NO_TOOL,    /* DIFFERS: no hook or needle of the trade keeps the stitches within 3% */
    HK_REASON_BALL_SMALL, /* DIFFERS: a ball holds no more than a join wastes, or no number of balls is enough */
};

/* One yarn of a row; a row of yarns held together has two. Two strands of the same yarn are one yarn. */
struct hk_compare_yarn {
    const char *yarn, *colour, *fibre;
    int64_t strands; /* 2 when it is held together with itself, else 1 */
    double put_up_g, put_up_m;
    struct hk_range mass_g;
    int64_t balls;                   /* to buy; 0: no number of balls is enough */
    /* From the cheapest offer of this ball in offers.csv, in whole packs; else as listed. -1: not stated. */
    int64_t price_minor, cost_minor;
    int64_t price_for; /* the balls that price_minor pays for: 1, or those of a pack */
    double left_over_m; /* the length of the balls less joins and the likely length */
    bool weighed;       /* a swatch of it was weighed or unravelled */
};

struct hk_compare_row {
    struct hk_compare_yarn yarns[2];
    size_t yarn_count;
    enum hk_verdict verdict;
    enum hk_reason reason;
    struct hk_range length_m;    /* of each yarn, all strands, worked with the planned tools */
    double spread;               /* standard deviation of ln length */
    double mass_g;               /* likely, all its yarns */
    int64_t balls, cost_minor;   /* all its yarns; cost -1: not known */
    double left_over_m;          /* all its yarns */
    double piece_g;              /* likely mass of the finished piece, other roles included */
    double thickness;            /* the ratio of its diameter to the planned yarn's */
    double stitch_size;          /* the ratio of its stitch size, with the planned tool, to the planned yarn's */
    double tool_mm;              /* the planned tool that works most of the role */
    double keeping_tool_mm;      /* the planned tool if stitches keep their size within 3%, else a tool of the trade
                                  * with which they do; 0: none */
    const char *keeping_label;   /* "I-9", or "" */
    double keeping_length_m; /* likely, with all tools of the role changed in this ratio; 0: no tool keeps the gauge */
    double nearest_tool_mm;  /* the keeping tool, or the tool of the trade with which stitches are nearest to their
                              * size; 0: the trade has none */
    const char *nearest_label;
    double nearest_size;     /* the ratio of its stitch size with that tool to the planned yarn's with the planned one */
    const char *categories;  /* all categories that fit: "3 Light, 4 Medium" */
    double moisture_low,
        moisture_high; /* conventional moisture allowance, a ratio of the dry mass; -1: fibre not known */
    bool damp;         /* the allowance differs by 3 points or more from the planned yarn's, so its mass
                        * changes more or less in damp air */
    size_t listed;     /* position in the list, from 0; pairs come after all single yarns */
};

enum hk_compare_order { HK_COMPARE_ORDER_COST, HK_COMPARE_ORDER_LENGTH, HK_COMPARE_ORDER_MASS, HK_COMPARE_ORDER_BALLS };

struct hk_compare_options {
    const char *role; /* NULL: the first role with candidates in yarns.csv, or with `list` the first role */
    const struct hk_yarn_list *list; /* NULL: the candidates of yarns.csv */
    enum hk_compare_order order;
    bool held_together; /* also pairs whose grams per metre add up to within 5% of the planned yarn's */
};

struct hk_compare {
    const char *project, *currency, *size, *role;
    int minor_digits;
    bool needles;                      /* the role is knitted: tools are needles */
    bool offers;                       /* some prices are from offers */
    double chance, margin;             /* margin: flat, or -1 */
    struct hk_compare_row plan;        /* the planned yarn, computed in the same way */
    const struct hk_compare_row
        *rows; /* those that fit first, in the order asked for; rows without a price come last */
    size_t row_count;
};

HK_API struct hk_compare_options hk_compare_defaults(void);
/*
 * Compares every candidate for the role, in the middle size of the need. Lengths follow the loop rule with the
 * candidate's diameter and the fitted departures; masses follow its label, or the fit when it was weighed. NULL on any
 * error, such as no candidate, or a list read for another project. Borrows the need and the list; owner: the caller.
 */
HK_API struct hk_compare *hk_compare_make(const struct hk_need *need, struct hk_compare_options options,
                                          struct hk_diags *diags);
HK_API void hk_compare_free(struct hk_compare *compare);

/*
 * ---- Quote: the price to charge
 * -------------------------------------------------------------------------------------------------
 */

enum hk_question {
    HK_QUESTION_COMMISSION, /* one piece, made to order */
    HK_QUESTION_KIT,        /* yarn, notions and pattern for somebody else to make it */
    HK_QUESTION_PATTERN,    /* the pattern alone */
};

struct hk_quote_options {
    enum hk_question question;
    int64_t price_minor;                    /* the given price, before taxes that are added; -1: compute the price */
    int64_t ending_minor, ending_modulus;   /* the ending of the price paid: paid % modulus == minor; modulus 1: any */
    double sure;                            /* commission: the chance, in (0, 1), with which the price shall pay the
                                             * hourly rate; 0: the price covers the likely hours */
    int64_t deposit_millionths;             /* of the price; up to 10^6 */
    int64_t deposit_minor;                  /* the deposit as an amount; -1: deposit_millionths */
    bool used;                              /* charge the yarn used (kit: wound off) instead of whole balls */
    int64_t batch;                          /* number of kits made at a time; at least 1 */
    const int64_t *kits;                    /* kit: the kits of each size of the project in one batch that shares its
                                             * costs; NULL: `batch` kits of each size, each size a batch of its own.
                                             * Used during the call only */
    int64_t waste_millionths;               /* part of the yarn that is lost in winding */
    int64_t spare_millionths;               /* part of everything in a kit that is bought beyond the batch */
    int64_t code_millionths;                /* reduction by a discount code, pattern or kit; 0: none; below 10^6 */
    int64_t code_minor;                     /* the same as an amount, off the quoted price; 0: none */
    int64_t sales;                          /* pattern without price_minor: the price pays the fixed costs by this
                                             * number of sales */
    const int64_t *discount_millionths;     /* commission, kit: reductions of the price to show beside it, each below
                                             * 10^6. Used during the call only */
    size_t discount_count;
    double seconds;                         /* kit: time limit of all searches for cheapest baskets, by size; > 0 */
    struct hk_watch watch;                  /* kit: watches these searches */
};

/*
 * The bill of a sale, exact to the minor unit: paid = quoted + the taxes that are added, and
 *     paid - fees - tax - costs = kept
 */
struct hk_bill {
    int64_t quoted_minor, paid_minor, fees_minor, tax_minor, costs_minor, kept_minor;
    const int64_t *fee_minor;      /* by fee of the quote; they add up to fees_minor */
    const int64_t *each_tax_minor; /* by tax of the quote, added and included; they add up to tax_minor */
};

/* A fee on the sale. */
struct hk_quote_fee {
    const char *item;
    bool percent;
    int64_t millionths;   /* percent: of the amount the buyer pays; each fee is rounded half up to the minor unit */
    int64_t amount_minor; /* if not percent */
};

/*
 * A tax on the price before tax, which is the quoted price / (1 + the sum of the included rates). Each tax is its rate
 * of that, rounded half up to the minor unit.
 */
struct hk_quote_tax {
    const char *item;
    int64_t millionths; /* of the price before tax */
    bool added;         /* added to the quoted price; false: included in it */
};

/* Balls of one mass. */
struct hk_quote_balls {
    double put_up_g;
    int64_t balls;
};

/* Yarn of one role. */
struct hk_quote_yarn {
    const char *role, *yarn, *colour;
    double mass_g;                        /* commission: likely; kit: in one kit */
    int64_t balls;                        /* commission: bought or from home; kit: in one kit, 0 when wound off */
    const struct hk_quote_balls *put_ups; /* the balls by mass, largest first */
    size_t put_up_count;
    double more_g; /* commission: the mass of one ball more; price_minor: its price */
    int64_t price_minor;
};

/* The same article at a reduced price. */
struct hk_quote_discount {
    int64_t millionths; /* the reduction of the quoted price, rounded half up */
    struct hk_bill bill;
    int64_t earns_minor; /* earnings per likely hour, negative for a loss; 0 where there are no hours */
};

/*
 * The kits of a batch that must be sold, in whichever sizes, until they have paid the costs of the whole batch, and
 * until they have paid its labour too; -1: not even the whole batch does. A kit sold leaves its price less fees, tax
 * and postage.
 */
struct hk_quote_sold {
    int64_t costs, work;
};

/*
 * One size of a commission or a kit. Costs of a kit are for one kit of the batch, rounded up. Exact to the minor unit:
 *
 *     yarn + materials + overhead + postage + each_fixed = costs
 *     costs + labour + markup + reserve + fees + tax + rounding = paid      when the price is computed
 */
struct hk_quote_size {
    const char *size;
    const struct hk_quote_yarn *yarns;
    size_t yarn_count;
    int64_t yarn_bought_minor, yarn_used_minor; /* commission: both; kit: used is 0 */
    int64_t yarn_home_minor;                    /* the value of the balls from home, not included in bought */
    int64_t yarn_minor;                         /* the amount charged: bought and from home, or used */
    int64_t materials_minor;                    /* notions and other contents of a kit */
    int64_t overhead_minor, postage_minor;
    struct hk_range hours; /* h, all labour: computed from stitches and ends, and stated */
    double stated_h;       /* the part of `hours` that costs.csv states */
    int64_t labour_minor, markup_minor;
    int64_t reserve_minor;  /* commission: what the price covers beyond, to be as sure as asked for; at least 0 */
    int64_t rounding_minor; /* the price less everything it must cover; 0 when the price is given */
    struct hk_bill bill;
    const struct hk_quote_discount *discounts; /* in the order of the options */
    int64_t deposit_minor;                     /* commission; the balance is the price paid less this */
    /* commission: */
    int64_t price_low_minor,
        price_high_minor; /* 5% and 95% quantiles of the price paid, if yarn and hours were known */
    int64_t earns_minor, earns_low_minor, earns_high_minor; /* earnings per hour at the price; -1: no hours */
    double chance_below; /* the chance that it pays less than the hourly rate; -1: no rate is
                          * stated */
    int64_t safe_minor;  /* the least price paid that pays the hourly rate with the chance `safe` of the quote; -1: no
                          * rate is stated */
    /* kit: */
    int64_t kits;                          /* of this size in its batch */
    int64_t fixed_minor, each_fixed_minor; /* fixed costs of the batch (the part of this size), and per kit */
    struct hk_quote_sold sold;             /* without kits by size */
    int64_t even_batch;                    /* the smallest batch from which every batch up to even_most pays;
                                            * -1: none */
    int64_t even_most;                     /* the larger of 100 and the batch; less when the stock ends earlier;
                                            * 0 with kits by size, which have no such batches */
    const struct hk_quote_batch *batches;
    size_t batch_count;
    struct hk_bill code_bill;                   /* with the discount code */
    int64_t code_even_batch;
};

/*
 * The full cost of one kit in a batch of this size, with the cheapest basket of yarn, and the profit of the batch at
 * the price.
 */
struct hk_quote_batch {
    int64_t kits;
    bool had; /* the offers hold enough yarn; if false, the fields below are not valid */
    int64_t unit_minor, left_minor;
    bool proven; /* no cheaper basket of yarn exists */
    double gap;  /* if not proven: the cheapest is at most this ratio below the basket used */
};

/* A pattern at one price. */
struct hk_quote_sales {
    struct hk_bill bill; /* costs 0 */
    int64_t sales;       /* number of sales that cover the fixed costs, labour and overhead included; -1: never */
    int64_t money_sales; /* the same without the labour; -1: never */
};

struct hk_quote {
    const char *project, *currency;
    int minor_digits;
    enum hk_question question;
    bool used, solved;               /* solved: the price was computed, not given */
    const struct hk_quote_fee *fees; /* in the order of costs.csv */
    size_t fee_count;
    const struct hk_quote_tax *taxes; /* in the order of costs.csv */
    size_t tax_count;
    bool tax_added; /* some tax is added, so the price paid is above the quoted price */
    size_t discount_count;
    double safe;            /* commission: the chance of safe_minor: options.sure, or 0.8 */
    bool sure;              /* the price was sought for this chance */
    int64_t rate_minor;     /* the hourly rate of the computed hours; -1: none is stated */
    bool ordered;           /* the cost of some yarn includes postage or a discount of its shop */
    int64_t batch;          /* kit: the kits of a batch, of all sizes where they share it */
    bool mixed;             /* kit: the sizes share one batch, whose purchase is shop.sizes[0], "XS 2, M 5" */
    struct hk_quote_sold sold; /* mixed: of the whole batch */
    bool wasted, spared; /* the batch of kits includes waste, or spare */
    size_t timed;        /* the number of timings */
    double chance;       /* the chance that the yarn is enough */
    double margin;       /* the flat margin that replaces the chance, or -1 */
    struct hk_shop shop; /* kit: the basket for the batch, by size: lines, bills and sums, without roles */
    const struct hk_quote_size *sizes; /* NULL for a pattern */
    size_t size_count;
    int64_t fixed_minor; /* pattern: all fixed costs, labour and overhead included */
    int64_t labour_minor, overhead_minor;
    struct hk_quote_sales sales, code_sales;
};

HK_API struct hk_quote_options hk_quote_defaults(enum hk_question question);
/*
 * Computes the price, or the result of a given price. The price is the least that covers the costs, the likely labour
 * and the markup; with `sure`, the least that also pays the labour with this chance, by the spreads of yarn and hours
 * (Monte Carlo, JCGM 101:2008). With kits by size, costs of the batch are divided equally among its kits, and the yarn
 * is one basket, divided by the value of the balls (wound off: of the grams) of each size; the quote has the sizes
 * with kits only. The shop (for a commission; else it may be NULL) must be made from this need, and the hours from its
 * tally, for the same sizes and one making: anything else is refused. A kit buys the yarn of its batch as hk_shop_plan
 * does, and the remarks on GLPK there apply here too. NULL on any error, such as a missing hourly rate or yarn price,
 * too few offers for the batch, a row for a batch with several quantities where sizes share it, a deposit or code
 * above the price, or fees and taxes that take the whole price. Borrows its arguments; owner: the caller.
 */
HK_API struct hk_quote *hk_quote_make(const struct hk_need *need, const struct hk_shop *shop, const struct hk_hours *hours,
                                      struct hk_quote_options options, struct hk_diags *diags);
HK_API void hk_quote_free(struct hk_quote *quote);

/*
 * ---- Calibration: finished work and testers against their forecasts, and the spreads that fit them
 * ------------------------------------------------------------------------------
 */

/* One making: the weighings of one size in progress.csv, of this project or a learned one, summed. */
struct hk_calibration_making {
    const char *project, *size; /* the title of its project; size "" where the project has one */
    struct hk_place at;         /* its first weighing */
    size_t weighings;
    double weighed_g;           /* used */
    struct hk_range forecast_g; /* by swatches, balls and all other makings; `enough` at the chance asked for */
    double deviations;          /* ln(weighed / likely) over the standard deviation of the forecast */
    const char *work;           /* "": a making; else one weighing, of this work, that the fit leaves out */
};

/* A tester of testers.csv. */
struct hk_calibration_tester {
    const char *name, *size;
    struct hk_place at;
    double tool_mm, pattern_tool_mm;   /* tool_mm 0: not stated */
    double gauge_stitches, gauge_rows; /* in 10 cm; 0: not stated */
    double used_g;                     /* on the tester's scale; a length by the label */
    struct hk_range forecast_g;        /* by the maker's own evidence and all other testers that count */
    double deviations;                 /* as above, with the tails of a spread that is estimated; signed */
    bool odd;                          /* it has a warning */
    bool left_out;                     /* it is so odd that it does not count */
};

enum hk_calibrated {
    HK_CALIBRATED_MAKING, /* one making from another */
    HK_CALIBRATED_PIECE,  /* one piece of a making from another */
    HK_CALIBRATED_READER, /* a reader from the maker; used by hk_materials_make as it is */
};

/* A spread and its estimate, with `now` as the median of its prior. Without evidence the estimate is the prior. */
struct hk_calibration_spread {
    enum hk_calibrated spread;
    const char *name;           /* in tables/spreads.csv: "making" */
    double now;                 /* the spread in use */
    double estimate, low, high; /* the 5% and 95% quantiles of the estimate */
    size_t evidence;            /* makings; pieces beyond the first of each making; testers */
    size_t needed;              /* the least evidence for a proposal */
    bool enough;                /* evidence >= needed */
    double proposal; /* the value to write into project.csv, where the spread is above `now`, or below it, with a
                      * chance of 99%; 0: none, as this is not so, as there is too little evidence, or as the
                      * estimate is in use already (READER) */
};

struct hk_calibration {
    double chance;
    const struct hk_calibration_making *makings; /* of this project, then of the learned ones, by file */
    size_t making_count;
    size_t left_out; /* how many of them, the last, are weighings that the fit leaves out; not counted below */
    size_t within;  /* makings from `low` to `high`, where 90% are expected */
    size_t covered; /* makings of at most `enough` */
    const struct hk_calibration_tester *testers;
    size_t tester_count;
    double readers_more; /* how much more than the maker readers take on average, as a ratio less 1 */
    const struct hk_calibration_spread *spreads; /* making, piece, and reader where there are testers */
    size_t spread_count;
};

/*
 * Compares what was weighed with its forecasts, and estimates the spreads that finished work has evidence for. A
 * forecast leaves its own making out. `chance` in (0, 1). NULL on any error, such as more than 200 makings or pieces.
 * Borrows the fit; owner: the caller.
 */
HK_API struct hk_calibration *hk_calibration_make(const struct hk_fit *fit, double chance, struct hk_diags *diags);
HK_API void hk_calibration_free(struct hk_calibration *calibration);

/*
 * ---- Materials: the materials block of a published pattern
 * -------------------------------------------------------------------------
 */

/* The units of texts: m, g and cm; yd, oz and in; or both. */
enum hk_units { HK_UNITS_BOTH, HK_UNITS_METRIC, HK_UNITS_IMPERIAL };

/* One amount for every size, as a pattern prints it, in both systems of units. */
struct hk_printed {
    const double *metric, *customary;         /* rounded; NAN for a size that does not need it */
    const char *metric_unit, *customary_unit; /* "m", "yd"; both "" for counts, whose values are equal */
    const char *metric_text, *customary_text; /* graded notation with the unit: "480 (520, 570) m" */
    const char *text;                         /* in the units asked for: "480 (520, 570) m / 530 (570, 630) yd" */
};

/* A yarn in one colour, in all its roles. */
struct hk_materials_colour {
    const char *colour, *roles;        /* "main", "main and trim" */
    struct hk_printed length, mass;    /* enough, rounded up */
    const int64_t *balls;              /* by size; 0: not needed */
    const char *balls_text;            /* "9 (10, 11)" */
    bool small;                        /* in every size at most 5 g and a tenth of a ball; never the colour of which the
                                        * design takes most */
};

struct hk_materials_yarn {
    const char *yarn, *fibre, *categories; /* the stated category, else all that fit: "3 Light" */
    double put_up_g, put_up_m;
    const char *put_up_text; /* in the units asked for: "50 g / 1.76 oz, 120 m / 131 yd" */
    const struct hk_materials_colour *colours;
    size_t colour_count;
};

struct hk_materials_tool {
    double tool_mm;
    const char *label; /* "H-8"; "" if the trade has none */
    bool needle;
    const bool *uses; /* by size: whether it works with the tool */
    const char *text; /* US terms: "US H-8 (5 mm) hook", UK: "5 mm (US H-8) hook"; with ", for S and M only" where the
                       * other sizes do without */
};

struct hk_materials_gauge {
    const char *fabric, *care, *swatch; /* fabric: its name in the terms asked for */
    double tool_mm, stitches, rows;     /* in 10 cm, to half a stitch; 0: not known */
    bool rounds;                        /* the rows are rounds */
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
    bool uk;                      /* the texts below are in UK terms */
    double chance, margin;        /* margin: flat, or -1 */
    double chance_all;            /* the chance that all yarns are enough, in the size where it is least; with one
                                   * yarn the same as `chance` */
    size_t colour_count;          /* of all yarns */
    bool plain;                   /* do not print the chance or margin of the amounts */
    enum hk_units units;          /* of the texts below */
    double reader, round_to;      /* reader: the spread of readers, from testers.csv if it has any */
    const struct hk_materials_yarn *yarns;
    size_t yarn_count;
    const char *const *held; /* yarns held together: "1 strand of main and 1 of mist throughout" */
    size_t held_count;
    const struct hk_materials_tool *tools;   /* largest first */
    size_t tool_count;
    const char *const *notions;
    size_t notion_count;
    const struct hk_materials_gauge *gauges;
    size_t gauge_count;
    const struct hk_materials_size *measures; /* finished measurements */
    size_t measure_count;
    const struct hk_materials_word *words;
    size_t word_count;
    const char *listing; /* sizes, yarn, gauge and tools as one paragraph, for a shop page */
    size_t testers;      /* readers known from testers.csv; 0: `reader` is that of tables/spreads.csv or project.csv */
    double reader_low, reader_high; /* the 5% and 95% quantiles of `reader` */
    double readers_more;            /* how much more than the maker readers take on average, as a ratio less 1 */
};

struct hk_materials_options {
    double round_to; /* amounts are rounded up to multiples of this; > 0 */
    enum hk_terms_wanted terms;
    bool plain; /* leave the chance or margin of the amounts out of the text */
    enum hk_units units; /* of the texts; the numbers are in both */
};

HK_API struct hk_materials_options hk_materials_defaults(void); /* 10, the project's terms, both units */
/*
 * Makes the materials block for the sizes of the need. Amounts are for a reader who meets the gauge: the spread
 * `reader` is added to the maker's own, and the average departure of the testers, where there are any, to the likely
 * amount; a flat margin stays unchanged. NULL on any error. Borrows the need; owner: the caller.
 */
HK_API struct hk_materials *hk_materials_make(const struct hk_need *need, struct hk_materials_options options,
                                              struct hk_diags *diags);
HK_API void hk_materials_free(struct hk_materials *materials);

/*
 * ---- Schematic: the outline of every piece to scale
 * ------------------------------------------------------------------------------------
 */

enum hk_outline {
    HK_OUTLINE_UNKNOWN, /* the counts alone do not give the shape: `why` */
    HK_OUTLINE_FLAT,    /* worked in rows */
    HK_OUTLINE_TUBE,    /* worked in rounds, laid flat: half as wide as its rounds are long */
    HK_OUTLINE_DISC,    /* rounds from a ring that lie flat */
    HK_OUTLINE_POLYGON, /* rounds from a ring with corners: a motif */
};

/*
 * x: from the centre line of the first row; y: upward from the first row. Of a disc and a polygon from the centre. The
 * right edge of a drawing is the one where a row worked from right to left, such as the first, begins.
 */
struct hk_schematic_point {
    double x_m, y_m;
};

enum hk_measured {
    HK_MEASURED_WIDTH,         /* stitches across; in one point where the drawing has no line for it */
    HK_MEASURED_CIRCUMFERENCE, /* stitches of a round: `length_m` is all of it; of a tube twice the line drawn */
    HK_MEASURED_HEIGHT,        /* rows */
    HK_MEASURED_RADIUS,        /* rounds, from the centre of a disc */
    HK_MEASURED_SIDE,          /* stitches of one side of a polygon */
    HK_MEASURED_APOTHEM, /* rounds, from the centre of a polygon to the middle of a side; the length is as drawn */
};

/* The place of a measure. A width is at the start, within or at the end of a part; a height is of one of these. */
enum hk_measured_at {
    HK_MEASURED_WHOLE,  /* the whole outline */
    HK_MEASURED_START,  /* of the part: its first row */
    HK_MEASURED_WITHIN, /* a width at the nth corner within the part; a height up to it, from the one below */
    HK_MEASURED_PART,   /* the height of the part */
    HK_MEASURED_END,    /* of the part: its last row */
};

/*
 * What a letter of the drawing names. A letter names the same measure in every size of an outline. Corners within a
 * part are measured where all sizes have equally many there.
 */
struct hk_schematic_measure {
    size_t letter; /* 0: A */
    enum hk_measured measured;
    enum hk_measured_at at;
    size_t line;      /* the line of the tally that is the part */
    const char *part; /* its name; "": it has none */
    size_t nth;       /* WITHIN: from 1; else 0 */
    int64_t count;    /* stitches or rows */
    bool rows;        /* `count` are rows or rounds */
    double length_m;
    struct hk_schematic_point from, to;
};

/* One outline in one size. A piece that begins several times, as in two halves, has one for each beginning. */
struct hk_schematic_piece {
    const char *piece, *part; /* part: "" where the piece has only one outline */
    size_t line;              /* the line of the tally with which the outline begins; the same in every size */
    size_t size;
    int64_t copies;
    enum hk_outline outline;
    const char *why;                         /* UNKNOWN: the reason, without a full stop; else "" */
    const struct hk_schematic_point *points; /* closed, counter-clockwise from the lower left; DISC and UNKNOWN: none */
    size_t point_count;
    double radius_m;                             /* DISC: of its rounds; POLYGON: of its corners; else 0 */
    const struct hk_schematic_measure *measures; /* upward; widths before the height above them */
    size_t measure_count;
};

struct hk_schematic {
    const struct hk_schematic_piece *pieces; /* by outline in the order of the lines, then by size */
    size_t piece_count;
};

/*
 * Draws every piece in one size, or (HK_NO_SIZE) in all. A width is the stitches over the gauge, a height the rows over
 * the gauge. A drawing is made only where counts, gauge and shaping give the shape (hankful(1), Schematic). Seams,
 * and bands along an edge of the same piece, are not drawn. NULL when memory runs out. Borrows the tally; owner: the
 * caller.
 */
HK_API struct hk_schematic *hk_schematic_make(const struct hk_tally *tally, size_t size, struct hk_diags *diags);
HK_API void hk_schematic_free(struct hk_schematic *schematic);

/* ---- Money ---------------------------------------------------------------------------------------------------------- */

#define HK_MONEY_TEXT 32
/*
 * Writes an amount as text: "38.40" for 3840 with 2 digits, "1200" with 0, "-0.05" for -5. minor_digits is 0 to 18,
 * else the text is "". Writes at most HK_MONEY_TEXT bytes.
 */
HK_API void hk_money_text(int64_t minor, int minor_digits, char text[HK_MONEY_TEXT]);

/* ---- Display ---------------------------------------------------------------------------------------------- */

/* Exact: NIST HB 44 (2014) App. C. */
#define HK_M_PER_YARD 0.9144
#define HK_M_PER_INCH 0.0254
#define HK_G_PER_OUNCE 28.349523125

/* A number as text, returned by value. */
struct hk_number {
    char text[40];
};

/*
 * Formats to `digits` significant digits, 1 to 17, with a decimal point in every locale and without trailing zeros:
 * "430", "2.75", "0.0015". From 10^15 on, and below 10^-9, it uses a power of ten: "1.2 x 10^18". "nan" and "inf" are
 * as in C.
 */
HK_API struct hk_number hk_number_text(double value, int digits);

/*
 * Returns the mark of graded notation that stands before value `i` of `count`, or, for i == count, after the last: "",
 * " (", ", ", ") [", ")" or "]". Up to seven values have one bracket, "5 (6, 7)"; more have two, the later values in
 * the second: "5 (6, 7, 8, 9) [10, 11, 12]".
 */
HK_API const char *hk_graded_mark(size_t i, size_t count);

/* The index of the name nearest to a mistyped word, ignoring letter case; HK_NO_NAME if no name is near. */
#define HK_NO_NAME SIZE_MAX
HK_API size_t hk_nearest_name(const char *word, const char *const *names, size_t count);

/* ---- Convert: one amount in every unit ------------------------------------------------------------------------------- */

/* The fineness of a yarn in every system; formulas in convert.c. */
struct hk_yarn_number {
    double tex;             /* g/km */
    double metric_nm;       /* km/kg */
    double denier;          /* g in 9 km */
    double cotton_ne;       /* hanks of 840 yd per pound */
    double worsted_ne;      /* hanks of 560 yd per pound */
    double woollen_run;     /* runs of 1600 yd per pound */
    double yards_a_pound;
    double metres_in_100_g;
    double wraps_per_inch; /* as measured if given, else from tex by the diameter rule of tables/spreads.csv */
    double diameter_mm;
};

/*
 * One amount of yarn in every unit. A known fineness gives one value, a category gives a range. The fineness gives the
 * mass from the length and the length from the mass; mass and length give the fineness.
 */
struct hk_convert {
    bool has_mass, has_length, has_number; /* which of the members below are set */
    double mass_g[2], length_m[2];         /* low and high; equal if known */
    struct hk_yarn_number number[2];       /* of the finest and the coarsest yarn; equal if known */
    bool by_rule;                          /* wraps or a diameter were given, so mass per length is by the diameter
                                            * rule only */
    bool finer_too, coarser_too;           /* the category is open at this end: it includes values beyond number[] */
    double put_up_g, put_up_m;             /* of the label, the named yarn, or "balls of 50 g"; 0: not known */
    const char *put_up_word;               /* "ball"; or "skein", "hank", "cake", ... as in the words. Static */
    bool asks_balls;                       /* the words ask how many balls: "how many balls of 100 g = 300 m for 840 m" */
    double given_balls;                    /* the words give a number of them, which is the amount; 0: they do not */
    double balls[2];                       /* the amount in balls, not rounded; 0 if the amount or the put-up is missing */
    double whole_balls[2];                 /* the same rounded up */
    double left_g, left_m;                 /* what the whole balls hold beyond the amount; 0 where there is a range */
    const char *const *categories;         /* "4 Medium": the category asked for, else all that fit the wraps */
    size_t category_count;                 /* per inch, since categories overlap; owner: the result */
    void *memory;
};

/*
 * Converts `words`, amounts and descriptions as typed on the command line, such as {"275 g", "50 g = 120 m"}, {"400
 * tex"}, {"12 wpi"}, {"275 g", "category 4"}, {"275 g", "yarn name"} (project may be NULL), {"3 balls of 50 g = 120 m"},
 * {"how many balls of 100 g = 300 m for 840 m"}. Words that belong together may be separate strings: {"275", "g", "50",
 * "g", "=", "120", "m"}. Findings have the file "words" and the word's
 * number as line. Returns false on any error and leaves *result unchanged; else the caller frees *result by
 * hk_convert_free.
 */
HK_API bool hk_convert_words(const char *const *words, size_t count, const struct hk_catalogue *catalogue,
                             const struct hk_project *project, struct hk_convert *result, struct hk_diags *diags);
HK_API void hk_convert_free(struct hk_convert *result);

#ifdef __cplusplus
}
#endif
#endif
