/* Tags of a picture, read back as SVG 1.1 has them. */
#ifndef FW_SVG_TAGS_H
#define FW_SVG_TAGS_H

#include "test.h"

#include <cpl_minixml.h>

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

/* A picture that any reader of XML takes, and nothing drawn beyond it: corners
 * of rectangles, and words of letters half as wide as high, whichever end is at
 * their place. */
static inline void is_whole_picture(const char *svg)
{
    CPLXMLNode *root = CPLParseXMLString(svg);
    if (!root)
        fail_msg("no XML: %.200s", svg);
    CPLDestroyXMLNode(root);
    const char *end = svg + strlen(svg) - strlen("</svg>\n");
    assert_string_equal(end, "</svg>\n");
    const char *first = strstr(svg, "<svg ");
    assert_non_null(first);
    const double wide = number(first, "width"), high = number(first, "height");
    for (const char *at = svg; (at = strstr(at, "<rect x=")); at++) {
        assert_true(number(at, "x") >= 0 && number(at, "y") >= 0);
        assert_true(number(at, "x") + number(at, "width") <= wide);
        assert_true(number(at, "y") + number(at, "height") <= high);
    }
    for (const char *at = svg; (at = strstr(at, "<text ")); at++) {
        const char *words = strchr(at, '>') + 1;
        const double size = number(at, "font-size");
        const double length = 0.5 * size * (double)strcspn(words, "<");
        const char *anchor = strstr(at, "text-anchor=\"");
        const double before = !anchor || anchor > words ? 0
                              : anchor[13] == 'e'       ? length
                                                        : length / 2;
        const double from = number(at, "x") - before;
        if (from < 0 || from + length > wide || number(at, "y") > high)
            fail_msg("beyond the picture: %.120s", at);
    }
}

#endif
