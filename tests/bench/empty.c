/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Does nothing, linked to all that hankful is linked to: what a process costs before any of ours runs. It asks for the version
 * only so that the linker keeps libhankful, and with it the solver and all else that the library brings.
 */
#include <hankful.h>

int main(void)
{
    return hk_version() == NULL;
}
