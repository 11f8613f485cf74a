/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "document.h"

#include "safe.h"

#include <stdlib.h>

static void put_safe(struct document *document, document_part *part, char *words)
{
    document->failed |= !words;
    if (words) {
        safe_words(words);
        part(document, words);
    }
    free(words);
}

void document_title(struct document *document, char *words)
{
    put_safe(document, document->put_title, words);
}

void document_heading(struct document *document, char *words)
{
    put_safe(document, document->put_heading, words);
}

void document_item(struct document *document, char *words)
{
    put_safe(document, document->put_item, words);
}

void document_subitem(struct document *document, char *words)
{
    put_safe(document, document->put_subitem, words);
}

bool document_end(struct document *document)
{
    if (document->close)
        document->close(document);
    return !document->failed;
}
