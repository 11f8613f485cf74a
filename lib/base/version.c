/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Returns the release, as defined by the build. */
#include "hankful.h"

const char *hk_version(void)
{
    return HK_VERSION;
}
