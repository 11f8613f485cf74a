/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support.h"

#include "base/arena.h"

#include <string.h>

static void memory_is_zeroed_and_aligned_for_any_type(void **state)
{
    (void)state;
    struct hk_arena arena = {0};
    for (size_t size = 1; size < 100; size++) {
        char *bytes = hk_arena_take(&arena, 1, size);
        assert_non_null(bytes);
        assert_int_equal((uintptr_t)bytes % _Alignof(max_align_t), 0);
        for (size_t i = 0; i < size; i++)
            assert_int_equal(bytes[i], 0);
        memset(bytes, 0xFF, size); /* the next piece must be different */
    }
    hk_arena_free(&arena);
    assert_null(arena.blocks);
}

static void no_things_still_have_a_place(void **state)
{
    (void)state;
    struct hk_arena arena = {0};
    assert_non_null(hk_arena_take(&arena, 0, 8));
    assert_non_null(hk_arena_take(&arena, 8, 0));
    assert_false(arena.out_of_memory);
    hk_arena_free(&arena);
}

/*
 * A large allocation in a block of its own leaves the current block in use: the small pieces before and after it are
 * adjacent.
 */
static void a_large_thing_does_not_waste_the_block_in_use(void **state)
{
    (void)state;
    struct hk_arena arena = {0};
    char *before = hk_arena_take(&arena, 1, sizeof(max_align_t));
    char *large = hk_arena_take(&arena, 1, (size_t)1 << 20);
    char *after = hk_arena_take(&arena, 1, sizeof(max_align_t));
    assert_ptr_equal(after, before + sizeof(max_align_t));
    large[0] = large[((size_t)1 << 20) - 1] = 1;
    hk_arena_free(&arena);
}

static void many_pieces_keep_what_was_written(void **state)
{
    (void)state;
    struct hk_arena arena = {0};
    int *pieces[5000];
    for (int i = 0; i < 5000; i++) {
        pieces[i] = hk_arena_take(&arena, 1, sizeof **pieces);
        *pieces[i] = i;
    }
    for (int i = 0; i < 5000; i++)
        assert_int_equal(*pieces[i], i);
    hk_arena_free(&arena);
}

static void texts_are_copied_and_closed(void **state)
{
    (void)state;
    struct hk_arena arena = {0};
    assert_string_equal(hk_arena_text(&arena, "sleeves", 6), "sleeve");
    assert_string_equal(hk_arena_text(&arena, "", 0), "");
    assert_string_equal(hk_arena_print(&arena, "%s %d", "row", 12), "row 12");
    hk_arena_free(&arena);
}

static void an_array_grows_and_keeps_its_elements(void **state)
{
    (void)state;
    struct hk_arena arena = {0};
    int *array = NULL;
    size_t capacity = 0;
    for (int i = 0; i < 1000; i++) {
        array = hk_arena_grow(&arena, array, (size_t)i, &capacity, sizeof *array);
        assert_non_null(array);
        assert_true(capacity > (size_t)i);
        array[i] = i;
    }
    for (int i = 0; i < 1000; i++)
        assert_int_equal(array[i], i);
    hk_arena_free(&arena);
}

/* count * size beyond the range of size_t must not wrap to a small number. */
static void too_much_loses_the_arena_for_good(void **state)
{
    (void)state;
    struct hk_arena arena = {0};
    char *kept = hk_arena_text(&arena, "kept", 4);
    assert_null(hk_arena_take(&arena, SIZE_MAX / 4, 8));
    assert_true(arena.out_of_memory);
    assert_null(hk_arena_take(&arena, 1, 1));
    assert_null(hk_arena_text(&arena, "a", 1));
    assert_null(hk_arena_print(&arena, "%d", 1));
    assert_string_equal(kept, "kept");
    hk_arena_free(&arena);
    assert_false(arena.out_of_memory);
}

static void an_array_that_cannot_grow_stays(void **state)
{
    (void)state;
    struct hk_arena arena = {0};
    size_t capacity = 0;
    int *array = hk_arena_grow(&arena, NULL, 0, &capacity, sizeof *array);
    array[0] = 7;
    size_t full = capacity;
    arena.out_of_memory = true;
    assert_ptr_equal(hk_arena_grow(&arena, array, full - 1, &capacity, sizeof *array), array);
    assert_null(hk_arena_grow(&arena, array, full, &capacity, sizeof *array));
    assert_int_equal(capacity, full);
    assert_int_equal(array[0], 7);
    hk_arena_free(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(memory_is_zeroed_and_aligned_for_any_type),
        cmocka_unit_test(no_things_still_have_a_place),
        cmocka_unit_test(a_large_thing_does_not_waste_the_block_in_use),
        cmocka_unit_test(many_pieces_keep_what_was_written),
        cmocka_unit_test(texts_are_copied_and_closed),
        cmocka_unit_test(an_array_grows_and_keeps_its_elements),
        cmocka_unit_test(too_much_loses_the_arena_for_good),
        cmocka_unit_test(an_array_that_cannot_grow_stays),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
