/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support.h"

#include "base/index.h"

static void names_keep_their_first_number(void **state)
{
    struct hk_arena arena = {0};
    struct hk_index index = {0};
    (void)state;
    assert_true(hk_index_find(&index, "main") == SIZE_MAX);
    assert_true(hk_index_add(&index, "main", 7, &arena));
    assert_true(hk_index_add(&index, "MAIN", 8, &arena));
    assert_true(hk_index_add(&index, "lace", 9, &arena));
    assert_int_equal(index.count, 2);
    assert_int_equal(hk_index_find(&index, "Main "), 7);
    assert_int_equal(hk_index_find(&index, "lace"), 9);
    assert_true(hk_index_find(&index, "mai") == SIZE_MAX);
    assert_true(hk_index_find(&index, "") == SIZE_MAX);
    hk_arena_free(&arena);
}

/* 7 i mod 1000 takes every value once, in no order. */
static void a_thousand_names_in_any_order_are_found(void **state)
{
    struct hk_arena arena = {0};
    struct hk_index index = {0};
    (void)state;
    for (size_t i = 0; i < 1000; i++)
        assert_true(hk_index_add(&index, hk_arena_print(&arena, "yarn %zu", 7 * i % 1000), 7 * i % 1000, &arena));
    assert_int_equal(index.count, 1000);
    for (size_t i = 0; i < 1000; i++)
        assert_int_equal(hk_index_find(&index, hk_arena_print(&arena, "Yarn %zu", i)), i);
    hk_arena_free(&arena);
}

static void without_memory_the_index_stays_as_it_is(void **state)
{
    struct hk_arena arena = {0};
    struct hk_index index = {0};
    (void)state;
    assert_true(hk_index_add(&index, "main", 0, &arena));
    arena.out_of_memory = true;
    for (size_t i = 1; index.count < index.capacity; i++)
        assert_true(hk_index_add(&index, (const char *[]){"b", "c", "d", "e", "f", "g", "h"}[i - 1], i, &arena));
    assert_false(hk_index_add(&index, "z", 9, &arena));
    assert_int_equal(hk_index_find(&index, "main"), 0);
    assert_true(hk_index_find(&index, "z") == SIZE_MAX);
    hk_arena_free(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(names_keep_their_first_number),
        cmocka_unit_test(a_thousand_names_in_any_order_are_found),
        cmocka_unit_test(without_memory_the_index_stays_as_it_is),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
