/* SPDX-License-Identifier: GPL-3.0-or-later */
/* project.csv: one setting a row. Every setting has a default. */
#ifndef HK_SETTINGS_H
#define HK_SETTINGS_H

#include "project/read/reading.h"

/* Sets the defaults, then reads project.csv; all mistakes become findings. */
void hk_settings_read(struct hk_reading *reading);

#endif
