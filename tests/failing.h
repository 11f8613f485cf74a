/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Memory allocation that fails on request. Each allocation function of a test calls allocation_fails() first. */
#ifndef TEST_FAILING_H
#define TEST_FAILING_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* From now on allocation `at` (from 0) fails, either once or with all later ones. */
void failing_at(size_t at, bool for_good);
/* From now on no allocation fails; each is noted the first time in the process that it is requested from a call path.
 */
void failing_note(void);
/* Stops all failures. Returns the number of allocations that failed. */
size_t failing_stop(void);

/* The result of failing_note: the numbers of the noted allocations, in order. */
size_t failing_places(const size_t **places);

bool allocation_fails(void);

#endif
