/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "project/size_meant.h"

#include "base/text.h"

#include <string.h>

#define WORD_LEAST 4 /* letters of a name that may be mistyped: shorter ones are sizes of their own */

/* What size labels have in common (common practice, no source): XXL, 2XL and 2X are one size, and so are XXS and 2XS.
 */
struct label {
    int extra;   /* how many X; 0: none */
    char letter; /* 's', 'm' or 'l'; 0: the name is no such label */
};

/* Skips a word and the signs behind it. */
static bool skip_word(const char **text, const char *word)
{
    if (!hk_text_starts(*text, word) || hk_is_letter((*text)[strlen(word)]))
        return false;
    *text += strlen(word);
    *text += strspn(*text, " -.");
    return true;
}

static char letter_of(const char *text)
{
    static const struct {
        const char *word;
        char letter;
    } words[] = {{"s", 's'}, {"small", 's'}, {"m", 'm'}, {"med", 'm'}, {"medium", 'm'}, {"l", 'l'}, {"large", 'l'}};
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
        const char *end = text;
        if (skip_word(&end, words[i].word) && !*end)
            return words[i].letter;
    }
    return 0;
}

static struct label label_of(const char *name)
{
    int times = 0, extra = 0;
    const char *text = name + strspn(name, " ");
    if (hk_is_digit(text[0]) && !hk_is_digit(text[1])) {
        times = text[0] - '0';
        text++;
        text += strspn(text, " -");
    }
    while (skip_word(&text, "extra"))
        extra++;
    for (; hk_lower(*text) == 'x' && extra < 9; text += strspn(text, " -")) {
        extra++;
        text++;
    }
    if (times > 0 && extra != 1)
        return (struct label){0};
    if (times > 1)
        extra = times;
    const bool bare = !*text && extra > 1; /* 2X, XX */
    const char letter = bare ? 'l' : letter_of(text);
    return letter && (times != 1) && !(letter == 'm' && extra > 0) ? (struct label){extra, letter} : (struct label){0};
}

static bool same_digits(const char *a, const char *b)
{
    for (;;) {
        a += strcspn(a, "0123456789");
        b += strcspn(b, "0123456789");
        if (*a != *b)
            return false;
        if (!*a)
            return true;
        a++;
        b++;
    }
}

size_t hk_size_meant(struct hk_names sizes, const char *name)
{
    const struct label label = label_of(name);
    for (size_t i = 0; label.letter && i < sizes.count; i++) {
        const struct label other = label_of(sizes.name(sizes.context, i));
        if (other.letter == label.letter && other.extra == label.extra)
            return i;
    }
    if (label.letter || strlen(name) < WORD_LEAST)
        return SIZE_MAX;
    const size_t near = hk_text_nearest(name, sizes.count, sizes.name, sizes.context);
    return near != SIZE_MAX && same_digits(name, sizes.name(sizes.context, near)) ? near : SIZE_MAX;
}

size_t hk_project_find_size(const struct hk_project *project, const char *name, const char **nearest)
{
    struct hk_names names = hk_project_size_names(project);
    size_t found = hk_names_find(names, name);
    if (found != SIZE_MAX)
        return found;
    size_t near = hk_size_meant(names, name);
    if (near != SIZE_MAX && nearest)
        *nearest = project->sizes[near];
    return HK_NO_SIZE;
}
