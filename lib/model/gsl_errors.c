/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "hankful.h"

#include <gsl/gsl_errno.h>

void hk_gsl_errors_off(void)
{
    gsl_set_error_handler_off();
}
