/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The shipped fabrics, by name. */
#ifndef HK_SHIPPED_FABRICS_H
#define HK_SHIPPED_FABRICS_H

#include "pattern/fabric.h"

/* Returns the fabric with this name or alias; NULL if there is none. */
const struct hk_fabric *hk_catalogue_fabric(const struct hk_catalogue *catalogue, const char *name);

#endif
