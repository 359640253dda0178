/* Pages and files read back. */
#ifndef FW_READ_BACK_H
#define FW_READ_BACK_H

#include "test.h"

#include <json-c/json.h>
#include <stdbool.h>
#include <string.h>

/* ---- pages ---- */

/* Folded lines become one again, so that words are found in them. */
static inline void unfold(char *text, size_t indent)
{
    char fold[40];
    snprintf(fold, sizeof fold, "\n%*s", (int)indent, "");
    for (char *at = text; (at = strstr(at, fold));) {
        char *rest = at + 1 + strspn(at + 1, " ");
        *at = ' ';
        memmove(at + 1, rest, strlen(rest) + 1);
    }
}

/* As a page is set: lines of at most so many columns, none set in by one or
 * ending in blanks, no two that are empty, one newline at the end. */
static inline void is_set_as_a_page(const char *text, size_t columns)
{
    const char *row = text;
    for (const char *end; (end = strchr(row, '\n')); row = end + 1) {
        const size_t length = (size_t)(end - row);
        size_t letters = 0;
        for (const char *at = row; at < end; at++)
            letters += ((unsigned char)*at & 0xc0) != 0x80;
        if (letters > columns || (length && end[-1] == ' ') ||
            strspn(row, " ") == 1 || (length == 0 && end[1] == '\n'))
            fail_msg("\"%.*s\" is not set as a page is", (int)length, row);
    }
    assert_true(*row == 0 && row > text + 1 && row[-2] != '\n');
}

static inline void has_words(const char *text, const char *words)
{
    if (!strstr(text, words))
        fail_msg("no \"%s\" in:\n%s", words, text);
}

static inline void has_not(const char *text, const char *words)
{
    if (strstr(text, words))
        fail_msg("\"%s\" is in:\n%s", words, text);
}

static inline size_t times(const char *text, const char *words)
{
    size_t count = 0;
    for (const char *at = text; (at = strstr(at, words)); at++)
        count++;
    return count;
}

/* ---- JSON ---- */

static inline struct json_object *parsed(const char *text)
{
    struct json_object *root = json_tokener_parse(text);
    if (!root)
        fail_msg("not JSON: %.300s", text);
    return root;
}

static inline struct json_object *of(struct json_object *from, const char *key)
{
    struct json_object *found = NULL;
    if (!json_object_object_get_ex(from, key, &found))
        fail_msg("no member %s in %s", key, json_object_to_json_string(from));
    return found;
}

static inline struct json_object *at(struct json_object *list, size_t i)
{
    if (i >= json_object_array_length(list))
        fail_msg("no %zu in %s", i, json_object_to_json_string(list));
    return json_object_array_get_idx(list, i);
}

static inline void is_number(struct json_object *from, const char *key,
                             double wanted)
{
    struct json_object *found = of(from, key);
    if (isnan(wanted)) {
        if (found)
            fail_msg("%s is %s; expected null", key,
                     json_object_to_json_string(found));
        return;
    }
    if (!json_object_is_type(found, json_type_double) &&
        !json_object_is_type(found, json_type_int))
        fail_msg("%s is %s", key, json_object_to_json_string(found));
    if (json_object_get_double(found) != wanted)
        fail_msg("%s is %s; expected %.17g", key,
                 json_object_to_json_string(found), wanted);
}

/* NULL: null. */
static inline void is_text(struct json_object *from, const char *key,
                           const char *wanted)
{
    struct json_object *found = of(from, key);
    if (!wanted || !found) {
        if (wanted || found)
            fail_msg("%s is %s", key, json_object_to_json_string(found));
        return;
    }
    assert_true(json_object_is_type(found, json_type_string));
    assert_string_equal(json_object_get_string(found), wanted);
}

static inline void is_flag(struct json_object *from, const char *key,
                           bool wanted)
{
    struct json_object *found = of(from, key);
    assert_true(json_object_is_type(found, json_type_boolean));
    if (json_object_get_boolean(found) != wanted)
        fail_msg("%s is %s", key, json_object_to_json_string(found));
}

#endif
