/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Does nothing, linked to all that hankful is linked to: what a process costs before any of ours runs. */
int main(void)
{
    return 0;
}
