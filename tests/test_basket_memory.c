/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Every allocation during the solution of a basket fails in turn, GLPK's own too, once or from then on permanently: the
 * process survives, and the answer is a failure that leaves *basket unchanged, or the right one. The linker's --wrap
 * does not reach into shared libraries, so this file replaces malloc itself, on top of the C library's; the test cannot
 * run with the address sanitizer, which also replaces it.
 */
#include "support.h"

#include "shop/basket.h"
#include "failing.h"

#include <stdlib.h>
#include <string.h>

/* glibc's own allocation functions, which its malloc calls. */
void *__libc_malloc(size_t size);
void *__libc_calloc(size_t count, size_t size);
void *__libc_realloc(void *memory, size_t size);

void *malloc(size_t size)
{
    return allocation_fails() ? NULL : __libc_malloc(size);
}

void *calloc(size_t count, size_t size)
{
    return allocation_fails() ? NULL : __libc_calloc(count, size);
}

void *realloc(void *memory, size_t size)
{
    return allocation_fails() ? NULL : __libc_realloc(memory, size);
}

/* Two shops with postage and a discount each, two roles: 20.00 - 2.00 in the first shop, 19.80 + 4.90 in the second. */
static const struct hk_basket_offer offers[] = {{0, 0, 0, 49, 1, -1, 500, NULL}, {0, 1, 0, 49, 1, -1, 495, NULL},
                                                {1, 0, 1, 49, 1, -1, 500, NULL}, {1, 1, 2, 99, 5, -1, 2475, NULL}};
static const struct hk_basket_shop shops[] = {{490, 2000, 2000, 0, 100000}, {490, 3000, 1000, 0, 50000}};
static const struct hk_basket_role roles[] = {{90, true}, {90, true}};
static const struct hk_basket_problem problem = {offers, shops, roles, 4, 2, 2, 60, {0}};

/* Returns true if no allocation failed. */
static bool solve_with_failure(size_t failing, bool good)
{
    struct hk_arena arena = {0};
    struct hk_basket basket = {.total_minor = 77};
    failing_at(failing, good);
    enum hk_basket_answer answer = hk_basket_solve(&problem, &basket, &arena);
    size_t failures = failing_stop();
    if (failures == 0) {
        assert_int_equal(answer, HK_BASKET_FOUND);
        assert_true(basket.proven);
    } else if (answer != HK_BASKET_FOUND) {
        assert_int_equal(answer, HK_BASKET_FAILED);
    }
    assert_int_equal(basket.total_minor, answer == HK_BASKET_FOUND ? 1800 : 77);
    hk_arena_free(&arena);
    return failures == 0;
}

static void no_failed_allocation_brings_the_process_down(void **state)
{
    (void)state;
    for (int good = 0; good < 2; good++) {
        size_t failing = 0;
        while (!solve_with_failure(failing, good))
            failing++;
        assert_true(failing > 100); /* allocations of GLPK were among them */
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(no_failed_allocation_brings_the_process_down)};
    return cmocka_run_group_tests_name("basket_memory", tests, NULL, NULL);
}
