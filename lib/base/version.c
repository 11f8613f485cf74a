/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The release, as the build states it. */
#include "hankful.h"

const char *hk_version(void)
{
    return HK_VERSION;
}
