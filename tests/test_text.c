/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support.h"

#include "base/text.h"

#include <string.h>

static void assert_plain(const char *text, const char *expected)
{
    struct hk_arena arena = {0};
    assert_string_equal(hk_text_plain(&arena, text, NULL), expected);
    hk_arena_free(&arena);
}

static void names_are_the_same_in_any_letter_case_and_with_other_blanks(void **state)
{
    (void)state;
    assert_true(hk_text_same("Main", " mAIN\t"));
    assert_true(hk_text_same("", "  "));
    assert_true(hk_text_same("Mole  Wool", "mole\n wool"));
    assert_false(hk_text_same("main", "mains"));
    assert_false(hk_text_same("ma in", "main"));
    assert_false(hk_text_same("main\xC2\xA0x", "mainx"));
    assert_true(hk_text_same("\xC3\x89" "cru", "\xC3\xA9" "cru"));                               /* e acute, in every locale */
    assert_true(hk_text_same("\xD0\xA1\xD0\x95\xD0\x92\xD0\x95\xD0\xA0", "\xD1\x81\xD0\xB5\xD0\xB2\xD0\xB5\xD1\x80")); /* Cyrillic */
    assert_true(hk_text_same("GROSS", "gro\xC3\x9F"));                                          /* a sharp s folds to two */
    assert_false(hk_text_same("\xC3\xA9", "e"));
}

/*
 * Normalisation: figures 3, 4 and 6 of Unicode Standard Annex #15, from memory: Angstrom sign, A with ring, A and ring;
 * s with dots above and below in either order; ligature fi; 2 to the 5th; long s with a dot above and one below.
 */
static void names_are_the_same_however_their_letters_are_put_together(void **state)
{
    (void)state;
    static const char *const same[][2] = {
        {"\xE2\x84\xAB", "\xC3\x85"}, {"A\xCC\x8A", "\xE2\x84\xAB"}, {"s\xCC\xA3\xCC\x87", "s\xCC\x87\xCC\xA3"},
        {"\xE1\xB9\xA9", "s\xCC\x87\xCC\xA3"}, {"\xEF\xAC\x81", "fi"}, {"2\xE2\x81\xB5", "25"},
        {"\xE1\xBA\x9B\xCC\xA3", "\xE1\xB9\xA9"},
    };
    for (size_t i = 0; i < sizeof same / sizeof same[0]; i++)
        assert_true(hk_text_same(same[i][0], same[i][1]));
    assert_false(hk_text_same("s\xCC\xA3", "s\xCC\x87"));
}

/* Changes that a phone or a word processor makes to typed text. */
static void names_are_the_same_with_other_dashes_quotes_and_fractions(void **state)
{
    (void)state;
    static const char *const same[][2] = {
        {"0-3 m", "0\xE2\x80\x93" "3 m"},             /* en dash */
        {"0-3 m", "0\xE2\x88\x92" "3\xC2\xA0m"},       /* minus sign, no-break space */
        {"Women's", "Women\xE2\x80\x99s"},           /* right single quotation mark */
        {"38 1/2", "38\xC2\xBD"},                     /* vulgar fraction one half */
        {"38 1/2", "38 1\xE2\x81\x84" "2"},           /* fraction slash */
        {"1/2 3", "\xC2\xBD" "3"},
        {"XL 2", "\xEF\xBC\xB8\xEF\xBC\xAC\xE3\x80\x80\xEF\xBC\x92"}, /* full width */
        {"lace x2", "lace \xC3\x97" "2"},             /* multiplication sign */
        {"5\"", "5\xE2\x80\xB3"},                    /* double prime */
        {"main", "ma\xC2\xAD" "in\xE2\x80\x8B"},       /* soft hyphen, zero width space */
    };
    for (size_t i = 0; i < sizeof same / sizeof same[0]; i++) {
        assert_true(hk_text_same(same[i][0], same[i][1]));
        assert_true(hk_text_same(same[i][1], same[i][0]));
    }
    assert_false(hk_text_same("381/2", "38\xC2\xBD"));
    assert_false(hk_text_same("a\xFF", "a"));
    assert_true(hk_text_same("a\xFF", "A\xFF"));
}

/* More marks on a letter than any real letter has, and a name as long as a cell may be: no allocation, no overrun. */
static void names_may_have_any_length_and_any_number_of_marks(void **state)
{
    (void)state;
    enum { MARKS = 5000 };
    static char a[2 * MARKS + 2], b[2 * MARKS + 2];
    strcpy(a, "e");
    strcpy(b, "E");
    for (size_t i = 0; i < MARKS; i++) {
        strcpy(a + 1 + 2 * i, "\xCC\x81");
        strcpy(b + 1 + 2 * i, "\xCC\x81");
    }
    assert_true(hk_text_same(a, b));
    b[2 * MARKS] = '\x82';
    assert_false(hk_text_same(a, b));
    assert_true(hk_text_same("\xEF\xB7\xBA", "\xEF\xB7\xBA ")); /* U+FDFA: 18 code points */
}

static void the_order_of_names_is_of_their_small_letters(void **state)
{
    (void)state;
    assert_int_equal(hk_text_compare("Quay", "qUAY"), 0);
    assert_int_equal(hk_text_compare(" Quay", "Quay\t"), 0);
    assert_int_equal(hk_text_compare("", " "), 0);
    assert_true(hk_text_compare("a", "B") < 0);
    assert_true(hk_text_compare("ab", "a") > 0);
    assert_true(hk_text_compare("a b", "a") > 0);
    assert_true(hk_text_compare("\xc3\xa9", "e") > 0); /* accented letters come after plain ones */
    assert_true(hk_text_compare("\xc3\xa9", "f") < 0);
}

/* Property: one order for ASCII and other names, so that a binary search finds names. */
static void the_order_of_names_holds_together(void **state)
{
    (void)state;
    static const char *const names[] = {"", " ", "a", "A b", "a  b ", "ab", "a\xC2\xA0" "b", "a\xCC\x81", "\xC3\xA1 b", "z", "\xC2\xBD",
                                        "1/2", "1 /2", "7\xC2\xBD", "7 1/2", "\xE8\x8C\x9C", "a\xFF", "-", "\xE2\x80\x94"};
    enum { NAMES = sizeof names / sizeof names[0] };
    for (size_t i = 0; i < NAMES; i++)
        for (size_t j = 0; j < NAMES; j++) {
            int ij = hk_text_compare(names[i], names[j]);
            assert_int_equal(ij, -hk_text_compare(names[j], names[i]));
            for (size_t k = 0; k < NAMES; k++)
                if (ij <= 0 && hk_text_compare(names[j], names[k]) <= 0)
                    assert_true(hk_text_compare(names[i], names[k]) <= 0);
        }
}

/* '@' and '`', '[' and '{' differ by the bit that letter case differs by. */
static void signs_that_differ_as_letter_cases_do_are_not_the_same(void **state)
{
    (void)state;
    assert_false(hk_text_same("@", "`"));
    assert_false(hk_text_same("[", "{"));
}

static void a_start_may_be_in_any_case_but_must_be_whole(void **state)
{
    (void)state;
    assert_true(hk_text_starts("Set-up 2", "set-UP"));
    assert_true(hk_text_starts("x", ""));
    assert_false(hk_text_starts("set", "set-up"));
}

static void characters_are_counted_not_bytes(void **state)
{
    (void)state;
    const char *text = "a\xC3\xA9\xE8\x8C\x9C\xF0\x9F\xA7\xB6"; /* a, e acute, a kanji, a ball of yarn */
    assert_int_equal(hk_text_characters(text, strlen(text)), 4);
    assert_int_equal(hk_text_characters(text, 3), 2);
    assert_int_equal(hk_text_characters(text, 0), 0);
}

/* RFC 3629 section 3: first and last of each length; section 4's grammar for invalid bytes. From memory. */
static void utf8_is_what_rfc_3629_says(void **state)
{
    (void)state;
    static const char *const good[] = {
        "\x01", "\x7F", "\xC2\x80", "\xDF\xBF", "\xE0\xA0\x80", "\xED\x9F\xBF", "\xEE\x80\x80", "\xEF\xBF\xBF",
        "\xF0\x90\x80\x80", "\xF4\x8F\xBF\xBF",
    };
    static const char *const bad[] = {
        "\x80", "\xBF", "\xC0\x80", "\xC1\xBF", "\xC2", "\xC2\x7F", "\xE0\x9F\xBF", "\xE8\x8C", "\xED\xA0\x80", "\xED\xBF\xBF",
        "\xF0\x8F\xBF\xBF", "\xF4\x90\x80\x80", "\xF5\x80\x80\x80", "\xF0\x9F\xA7", "\xFE", "\xFF",
    };
    for (size_t i = 0; i < sizeof good / sizeof good[0]; i++) {
        size_t at = 77;
        assert_true(hk_text_valid_utf8(good[i], strlen(good[i]), &at));
        assert_int_equal(at, 77);
    }
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        char text[32] = "0123456789abcdef"; /* long enough for the fast path, at every offset */
        for (size_t before = 0; before <= 16; before++) {
            strcpy(text + before, bad[i]);
            size_t at = 77;
            assert_false(hk_text_valid_utf8(text, strlen(text), &at));
            assert_int_equal(at, before);
            memcpy(text, "0123456789abcdef", 17);
        }
    }
}

static void paste_is_made_plain(void **state)
{
    (void)state;
    assert_plain("18\xC2\xA0" "cm", "18 cm");
    assert_plain("1\xE2\x80\xAF" "000\xE2\x80\x89g", "1 000 g");
    assert_plain("\xE3\x80\x80\xEF\xBC\x95\xEF\xBC\x90\xEF\xBD\x87", "50g"); /* full width, as some keyboards type */
    assert_plain("\xE2\x80\x98" "a\xE2\x80\x99 \xE2\x80\x9C" "b\xE2\x80\x9D", "'a' \"b\"");
    assert_plain("5\xE2\x80\xB2 7\xE2\x80\xB3", "5' 7\"");
    assert_plain("1\xE2\x80\x93" "2 \xE2\x80\x94 3 \xE2\x88\x92" "4 \xE2\x80\x91", "1-2 - 3 -4 -");
    assert_plain("main \xC3\x97" "2", "main x2");
    assert_plain("7 1\xE2\x81\x84" "2", "7 1/2");
    assert_plain("\xE2\x88\x97" "dc\xE2\x88\x97", "*dc*");
}

/* The ASCII neighbours of 0, 9, A, Z, a and z are not matched. */
static void letters_and_digits_are_distinguished_from_their_neighbours(void **state)
{
    (void)state;
    for (int c = 0; c < 0x100; c++) {
        assert_int_equal(hk_is_digit((char)c), c != 0 && c < 0x80 && strchr("0123456789", c) != NULL);
        assert_int_equal(hk_is_letter((char)c),
                         c >= 0x80 || (c != 0 && strchr("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ", c) != NULL));
    }
}

/* Normalises UTF-8 of one character between the letters a and b. */
static void assert_character(uint32_t code, const char *expected)
{
    char text[8] = "a", *end = text + 1;
    if (code < 0x80) {
        *end++ = (char)code;
    } else if (code < 0x800) {
        *end++ = (char)(0xC0 | code >> 6);
        *end++ = (char)(0x80 | (code & 0x3F));
    } else {
        *end++ = (char)(0xE0 | code >> 12);
        *end++ = (char)(0x80 | (code >> 6 & 0x3F));
        *end++ = (char)(0x80 | (code & 0x3F));
    }
    strcpy(end, "b");
    assert_plain(text, *expected == '=' ? text : expected);
}

/*
 * Every character of a kind, by its name in the Unicode Character Database (from memory), and the neighbours that are
 * separate letters or signs and remain unchanged.
 */
static void each_character_of_a_kind_is_made_plain_and_its_neighbours_are_not(void **state)
{
    (void)state;
    static const struct {
        uint32_t first, last;
        const char *plain;
    } kinds[] = {
        {0x09, 0x09, "a b"},     /* tabulation */
        {0x85, 0x85, "a b"},     /* next line */
        {0xA0, 0xA0, "a b"},     /* no-break space */
        {0xA1, 0xA1, "="},       /* inverted exclamation mark */
        {0xAD, 0xAD, "ab"},      /* soft hyphen */
        {0xB4, 0xB4, "a'b"},     /* acute accent */
        {0xD7, 0xD7, "axb"},     /* multiplication sign */
        {0x2B9, 0x2B9, "a'b"},   /* modifier letter prime */
        {0x2BA, 0x2BA, "a\"b"},  /* modifier letter double prime */
        {0x1680, 0x1680, "a b"}, /* ogham space mark */
        {0x1FFE, 0x1FFE, "="},   /* greek dasia */
        {0x2000, 0x200A, "a b"}, /* en quad to hair space */
        {0x200B, 0x200F, "ab"},  /* zero width space to right-to-left mark */
        {0x2010, 0x2015, "a-b"}, /* hyphen to horizontal bar */
        {0x2016, 0x2017, "="},   /* double vertical line, double low line */
        {0x2018, 0x201B, "a'b"}, /* single quotation marks */
        {0x201C, 0x201F, "a\"b"}, /* double quotation marks */
        {0x2020, 0x2027, "="},   /* dagger to hyphenation point */
        {0x2028, 0x2029, "a b"}, /* line and paragraph separator */
        {0x202A, 0x202E, "ab"},  /* embeddings and overrides of direction */
        {0x202F, 0x202F, "a b"}, /* narrow no-break space */
        {0x2030, 0x2031, "="},   /* per mille, per ten thousand */
        {0x2032, 0x2032, "a'b"}, /* prime */
        {0x2033, 0x2033, "a\"b"}, /* double prime */
        {0x2035, 0x2035, "a'b"}, /* reversed prime */
        {0x2036, 0x2036, "a\"b"}, /* reversed double prime */
        {0x2044, 0x2044, "a/b"}, /* fraction slash */
        {0x204E, 0x204E, "a*b"}, /* low asterisk */
        {0x2070, 0x2079, "="},   /* raised digits */
        {0x2080, 0x2089, "="},   /* lowered digits */
        {0x205F, 0x205F, "a b"}, /* medium mathematical space */
        {0x2060, 0x2064, "ab"},  /* word joiner to invisible plus */
        {0x2066, 0x2069, "ab"},  /* isolates of direction */
        {0x2211, 0x2211, "="},   /* summation */
        {0x2212, 0x2212, "a-b"}, /* minus sign */
        {0x2215, 0x2215, "a/b"}, /* division slash */
        {0x2217, 0x2217, "a*b"}, /* asterisk operator */
        {0x2714, 0x2714, "="},   /* check mark */
        {0x2715, 0x2716, "axb"}, /* multiplication X */
        {0x2A2F, 0x2A2F, "axb"}, /* vector or cross product */
        {0x3000, 0x3000, "a b"}, /* ideographic space */
        {0x3001, 0x3001, "="},   /* ideographic comma */
        {0x339C, 0x339C, "ammb"}, /* square mm */
        {0xFDFF, 0xFDFF, "="},   /* not assigned */
        {0xFE00, 0xFE0F, "ab"},  /* variation selectors */
        {0xFE58, 0xFE58, "a-b"}, /* small em dash */
        {0xFE63, 0xFE63, "a-b"}, /* small hyphen-minus */
        {0xFEFF, 0xFEFF, "ab"},  /* byte order mark */
        {0xFF01, 0xFF01, "a!b"}, /* fullwidth exclamation mark */
        {0xFF5E, 0xFF5E, "a~b"}, /* fullwidth tilde */
        {0xFF5F, 0xFF5F, "="},   /* fullwidth left white parenthesis */
    };
    for (size_t i = 0; i < sizeof kinds / sizeof kinds[0]; i++)
        for (uint32_t code = kinds[i].first; code <= kinds[i].last; code++)
            assert_character(code, kinds[i].plain);
}

static void a_vulgar_fraction_is_written_out_apart_from_digits(void **state)
{
    (void)state;
    assert_plain("7\xC2\xBD in", "7 1/2 in");
    assert_plain("7 \xC2\xBC", "7 1/4");
    assert_plain("\xC2\xBE", "3/4");
    assert_plain("(\xE2\x85\x93,\xE2\x85\x94)", "(1/3,2/3)");
    assert_plain("\xE2\x85\x9B \xE2\x85\x9C \xE2\x85\x9D \xE2\x85\x9E", "1/8 3/8 5/8 7/8");
    assert_plain("\xC2\xBD" "3", "1/2 3"); /* not 1/23 */
    assert_plain("\xC2\xBD\xC2\xBD", "1/2 1/2");
}

static void what_cannot_be_seen_is_dropped(void **state)
{
    (void)state;
    assert_plain("ma\xC2\xAD" "in\xE2\x80\x8B", "main");
    assert_plain("\xEF\xBB\xBF" "5\xE2\x80\x8D" "0\xE2\x81\xA0", "50");
    assert_plain("\xE2\x80\x8E\xE2\x80\xAC", "");
}

static void blanks_are_trimmed_and_run_together(void **state)
{
    (void)state;
    assert_plain("  a \t\r\n \xC2\xA0 b  ", "a b");
    assert_plain(" \xC2\xA0 ", "");
    assert_plain("", "");
}

static void other_letters_and_wrong_bytes_stay(void **state)
{
    (void)state;
    assert_plain("\xE8\x8C\x9C\xE8\x89\xB2 \xC3\xA9", "\xE8\x8C\x9C\xE8\x89\xB2 \xC3\xA9");
    assert_plain("a\xFF" "b", "a\xFF" "b");
}

/* "  7½  in": the 7 is at 2, the fraction at 3 (two bytes), the first space after it at 5, "in" at 7, the end at 9. */
static void origin_points_back_into_the_text(void **state)
{
    (void)state;
    struct hk_arena arena = {0};
    size_t *origin = NULL;
    const char *plain = hk_text_plain(&arena, "  7\xC2\xBD  in", &origin);
    static const size_t expected[] = {2, 3, 3, 3, 3, 5, 7, 8, 9};
    assert_string_equal(plain, "7 1/2 in");
    for (size_t i = 0; i < sizeof expected / sizeof expected[0]; i++)
        assert_int_equal(origin[i], expected[i]);
    hk_arena_free(&arena);
}

/* Property: normalising twice equals normalising once; origins never decrease, and are within the text. */
static void plain_text_stays_and_origins_ascend(void **state)
{
    (void)state;
    static const char *const pieces[] = {"7", " ", "\xC2\xA0", "\xC2\xBD", "\xE2\x80\x8B", "x", "\xE2\x80\xB3", "-", "\xFF", "\xE8\x8C\x9C"};
    enum { PIECES = sizeof pieces / sizeof pieces[0], COMBINATIONS = PIECES * PIECES * PIECES * PIECES };
    struct hk_arena arena = {0};
    for (size_t n = 0; n < COMBINATIONS; n++) {
        char text[32] = "";
        for (size_t rest = n, i = 0; i < 4; i++, rest /= PIECES)
            strcat(text, pieces[rest % PIECES]);
        size_t *origin = NULL;
        const char *plain = hk_text_plain(&arena, text, &origin);
        assert_string_equal(hk_text_plain(&arena, plain, NULL), plain);
        size_t length = strlen(plain);
        assert_int_equal(origin[length], strlen(text));
        for (size_t i = 1; i <= length; i++)
            assert_true(origin[i - 1] <= origin[i]);
    }
    hk_arena_free(&arena);
}

static void what_is_shown_is_what_was_typed_on_one_line(void **state)
{
    (void)state;
    struct hk_arena arena = {0};
    assert_string_equal(hk_text_shown(&arena, " 0\xE2\x80\x93" "3 \n m\t"), "0\xE2\x80\x93" "3 m");
    assert_string_equal(hk_text_shown(&arena, "38\xC2\xBD"), "38\xC2\xBD");
    assert_string_equal(hk_text_shown(&arena, " \n"), "");
    arena.out_of_memory = true;
    assert_null(hk_text_shown(&arena, "a"));
    hk_arena_free(&arena);
}

static void a_lost_arena_makes_nothing_plain(void **state)
{
    (void)state;
    struct hk_arena arena = {.out_of_memory = true};
    size_t mark = 7, *origin = &mark;
    assert_null(hk_text_plain(&arena, "a", &origin));
    assert_ptr_equal(origin, &mark);
    hk_arena_free(&arena);
}

static const char *listed(const void *context, size_t i)
{
    const char *const *names = context;
    return names[i];
}

static size_t nearest(const char *word)
{
    static const char *const names[] = {"length", "colour", "stitches", "k", "put_up", "\xC3\x89" "cru", "main"};
    return hk_text_nearest(word, sizeof names / sizeof names[0], listed, names);
}

static void a_slip_of_the_finger_finds_its_name(void **state)
{
    (void)state;
    assert_int_equal(nearest("lenght"), 0);           /* two neighbours swapped: 1 */
    assert_int_equal(nearest("color"), 1);            /* one left out */
    assert_int_equal(nearest("STITCHESS"), 2);        /* one too many, letter case aside */
    assert_int_equal(nearest("put up"), 4);           /* one taken for another */
    assert_int_equal(nearest(" main "), 6);
    assert_int_equal(nearest("\xC3\xA9" "cur"), 5);   /* characters, not bytes; accented letters fold too */
}

/* Six characters: a third is 2. "lngh" is two short of "length"; "lgh" is three short. */
static void a_third_of_the_longer_word_may_differ_and_no_more(void **state)
{
    (void)state;
    assert_int_equal(nearest("lngh"), 0);
    assert_int_equal(nearest("lgh"), SIZE_MAX);
    assert_int_equal(nearest("xyzzy"), SIZE_MAX);
    assert_int_equal(nearest(""), SIZE_MAX);
    assert_int_equal(nearest("p"), SIZE_MAX); /* two different letters share no similarity */
    assert_int_equal(nearest("k2"), 3);       /* at least 1 */
}

/*
 * Optimal string alignment: "ca" to "abc" takes 3, since a swapped pair is not edited again (the unrestricted distance
 * is 2). F. J. Damerau, CACM 7 (1964) 171, as commonly worked; from memory. A nine-letter word lets 3 pass, so pad
 * both.
 */
static void a_swapped_pair_is_not_edited_again(void **state)
{
    (void)state;
    static const char *const near_names[] = {"abcwxyzw"}; /* 8 characters: at most 2 */
    static const char *const far_names[] = {"abcvwxyzw"};  /* 9 characters: at most 3 */
    assert_int_equal(hk_text_nearest("cawxyzw", 1, listed, near_names), SIZE_MAX);
    assert_int_equal(hk_text_nearest("cavwxyzw", 1, listed, far_names), 0);
}

static void of_equals_the_first_is_offered_and_an_exact_one_wins(void **state)
{
    (void)state;
    static const char *const names[] = {"cuff", "ruff", "buff"};
    assert_int_equal(hk_text_nearest("muff", 3, listed, names), 0);
    assert_int_equal(hk_text_nearest("Buff", 3, listed, names), 2);
}

/* A whole name within a longer one is the suggestion, however long that is; a name with similar letters comes first. */
static void first_words_call_for_the_whole_name(void **state)
{
    (void)state;
    static const char *const names[] = {"Mole Wool and Linen", "Quay Yarns", "Quayside"};
    assert_int_equal(hk_text_nearest("mole", 3, listed, names), 0);
    assert_int_equal(hk_text_nearest("Quay", 3, listed, names), 1);
    assert_int_equal(hk_text_nearest("Quay Yarns, Tarbert", 3, listed, names), SIZE_MAX); /* not a blank */
    assert_int_equal(hk_text_nearest("Quay Yarns Tarbert", 3, listed, names), 1);
    assert_int_equal(hk_text_nearest("Quaysid", 3, listed, names), 2);
    assert_int_equal(hk_text_nearest("M", 3, listed, names), SIZE_MAX);
}

static void words_beyond_bearing_are_no_names(void **state)
{
    (void)state;
    char word[200];
    memset(word, 'a', sizeof word - 1);
    word[sizeof word - 1] = '\0';
    const char *names[] = {word, "aaa"};
    assert_int_equal(hk_text_nearest(word, 2, listed, names), SIZE_MAX);
    assert_int_equal(hk_text_nearest("aaaa", 2, listed, names), 1);
}

/* "chek" is one letter from "check" and three from "need"; no name is near to "zzzz", or in an empty list. */
static void the_public_call_finds_the_nearest_of_a_plain_list(void **state)
{
    (void)state;
    const char *const names[] = {"need", "check", "shop"};
    assert_int_equal(hk_nearest_name("chek", names, 3), 1);
    assert_int_equal(hk_nearest_name("SHOP", names, 3), 2);
    assert_int_equal(hk_nearest_name("zzzz", names, 3), HK_NO_NAME);
    assert_int_equal(hk_nearest_name("need", names, 0), HK_NO_NAME);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(names_are_the_same_in_any_letter_case_and_with_other_blanks),
        cmocka_unit_test(names_are_the_same_however_their_letters_are_put_together),
        cmocka_unit_test(names_are_the_same_with_other_dashes_quotes_and_fractions),
        cmocka_unit_test(names_may_have_any_length_and_any_number_of_marks),
        cmocka_unit_test(the_order_of_names_holds_together),
        cmocka_unit_test(the_order_of_names_is_of_their_small_letters),
        cmocka_unit_test(signs_that_differ_as_letter_cases_do_are_not_the_same),
        cmocka_unit_test(a_start_may_be_in_any_case_but_must_be_whole),
        cmocka_unit_test(characters_are_counted_not_bytes),
        cmocka_unit_test(utf8_is_what_rfc_3629_says),
        cmocka_unit_test(letters_and_digits_are_distinguished_from_their_neighbours),
        cmocka_unit_test(paste_is_made_plain),
        cmocka_unit_test(each_character_of_a_kind_is_made_plain_and_its_neighbours_are_not),
        cmocka_unit_test(a_vulgar_fraction_is_written_out_apart_from_digits),
        cmocka_unit_test(what_cannot_be_seen_is_dropped),
        cmocka_unit_test(blanks_are_trimmed_and_run_together),
        cmocka_unit_test(other_letters_and_wrong_bytes_stay),
        cmocka_unit_test(origin_points_back_into_the_text),
        cmocka_unit_test(plain_text_stays_and_origins_ascend),
        cmocka_unit_test(what_is_shown_is_what_was_typed_on_one_line),
        cmocka_unit_test(a_lost_arena_makes_nothing_plain),
        cmocka_unit_test(a_slip_of_the_finger_finds_its_name),
        cmocka_unit_test(a_third_of_the_longer_word_may_differ_and_no_more),
        cmocka_unit_test(a_swapped_pair_is_not_edited_again),
        cmocka_unit_test(of_equals_the_first_is_offered_and_an_exact_one_wins),
        cmocka_unit_test(first_words_call_for_the_whole_name),
        cmocka_unit_test(words_beyond_bearing_are_no_names),
        cmocka_unit_test(the_public_call_finds_the_nearest_of_a_plain_list),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
