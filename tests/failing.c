/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "failing.h"

#include <execinfo.h>
#include <stdlib.h>

/* Number of return addresses that identify a call path; fewer with sanitizers, which make a failure several times as
 * slow. */
#ifdef __SANITIZE_ADDRESS__
#define CALLERS 6
#else
#define CALLERS 7
#endif
#define OWN_CALLERS 2
#define PLACES_MOST 16384

static enum { ALL_SUCCEED, SOME_FAIL, NOTE } mode;
static bool failing_for_good;
static size_t fail_at, asked, failures, place_count, mark_count;
static size_t place_numbers[PLACES_MOST];
static uint64_t place_marks[2 * PLACES_MOST]; /* a hash table; 0: empty */

void failing_at(size_t at, bool for_good)
{
    mode = SOME_FAIL;
    fail_at = at;
    failing_for_good = for_good;
    asked = failures = 0;
}

void failing_note(void)
{
    mode = NOTE;
    asked = failures = place_count = 0;
}

size_t failing_stop(void)
{
    mode = ALL_SUCCEED;
    return failures;
}

size_t failing_places(const size_t **places)
{
    *places = place_numbers;
    return place_count;
}

/* FNV-1a over the return addresses. */
static uint64_t way_here(void)
{
    void *callers[OWN_CALLERS + CALLERS];
    int depth = backtrace(callers, OWN_CALLERS + CALLERS);
    uint64_t mark = 14695981039346656037u;
    for (int i = OWN_CALLERS; i < depth; i++)
        mark = (mark ^ (uint64_t)(uintptr_t)callers[i]) * 1099511628211u;
    return mark | 1;
}

static void note(size_t number)
{
    uint64_t mark = way_here();
    size_t at = (mark >> 17) % (2 * PLACES_MOST);
    while (place_marks[at] && place_marks[at] != mark)
        at = (at + 1) % (2 * PLACES_MOST);
    if (place_marks[at])
        return;
    if (mark_count++ == PLACES_MOST)
        abort();
    place_marks[at] = mark;
    place_numbers[place_count++] = number;
}

bool allocation_fails(void)
{
    if (mode == ALL_SUCCEED)
        return false;
    size_t number = asked++;
    if (mode == NOTE) {
        mode = ALL_SUCCEED; /* backtrace may allocate memory itself */
        note(number);
        mode = NOTE;
        return false;
    }
    bool fails = number == fail_at || (failing_for_good && number > fail_at);
    failures += fails;
    return fails;
}
