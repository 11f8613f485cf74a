/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Memory that fails when told to. Whatever hands out memory in a test's place asks allocation_fails() each time. */
#ifndef TEST_FAILING_H
#define TEST_FAILING_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* From now on allocation `at` (from 0) fails, once or with every one after it. */
void failing_at(size_t at, bool for_good);
/* From now on none fails, and each is noted the first time that it is asked for on that way through the code. */
void failing_note(void);
/* None fails any more. Gives how many did. */
size_t failing_stop(void);

/* What failing_note gave: the numbers of those allocations, in order. */
size_t failing_places(const size_t **places);

bool allocation_fails(void);

#endif
