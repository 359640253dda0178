/* Tags of a picture, read back as SVG 1.1 has them. */
#ifndef FW_SVG_TAGS_H
#define FW_SVG_TAGS_H

#include "test.h"

#include <stdlib.h>
#include <string.h>

/* What stands between the quotes of an attribute of the tag at hand. */
static inline const char *attribute(const char *tag, const char *name)
{
    char words[40];
    snprintf(words, sizeof words, " %s=\"", name);
    const char *at = strstr(tag, words);
    if (!at || at > strchr(tag, '>'))
        fail_msg("no %s in %.80s", name, tag);
    return at + strlen(words);
}

static inline double number(const char *tag, const char *name)
{
    return strtod(attribute(tag, name), NULL);
}

static inline bool has(const char *tag, const char *name, const char *value)
{
    const char *at = attribute(tag, name);
    return !strncmp(at, value, strlen(value)) && at[strlen(value)] == '"';
}

static inline const char *after(const char *svg, const char *words)
{
    const char *at = strstr(svg, words);
    if (!at)
        fail_msg("no %s", words);
    return at;
}

#endif
