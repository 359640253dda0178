/* From parsed JSON to a plan. */
#ifndef FW_STORE_READING_H
#define FW_STORE_READING_H

#include "store/labels.h"
#include <json-c/json.h>

/* Fill the plan, which starts as zeros, from the root of plan.json. FW_EINPUT
 * names the member; the caller frees the plan either way. */
enum fw_status fw_io__plan_fill(struct fw_plan *plan, struct json_object *root,
                                struct fw_error *err);

/* The local planes of a plan that was read, and whatever of a place follows
 * from its lon and lat; see places.c. FW_EINPUT: one is far off. */
enum fw_status fw_io__places(struct fw_plan *plan, struct fw_error *err);

/* Does every index point at something? Nothing else looks again. */
enum fw_status fw_io__plan_check(const struct fw_plan *plan,
                                 struct fw_error *err);

/* check_time.c: its part of that, when all else is right. */
enum fw_status fw_io__plan_check_time(const struct fw_plan *plan,
                                      struct fw_error *err);

/* ".<list>[<i>].<member>: <expected>" */
enum fw_status fw_io__wrong(struct fw_error *err, const char *list, size_t i,
                            const char *member, const char *expected);

/* ---- for fill.c ---- */

#define FW_IO__MOST_SOURCES 8

/* A text that the plan shows and does not own; see keep_sources. */
struct fw_io__source {
    char *at; /* of the pointer */
    const char *text;
};

struct fw_io__reader {
    struct fw_plan *plan;
    bool refs;                          /* the second walk */
    unsigned lacking[FW_IO__ROW_KINDS]; /* bits: columns that the file lacks */
    struct fw_io__labels labels[FW_IO__TARGETS];
    struct fw_io__source sources[FW_IO__MOST_SOURCES];
    size_t source_count;
    struct fw_io__rule *rules;
    size_t rule_count;
    struct fw_error *err;
};

/* rows.c: is `columns` what this reader knows, but for what may be null? */
enum fw_status fw_io__read_columns(struct fw_io__reader *reader,
                                   struct json_object *root);

/* Has the row as many values as its columns are, which *lacking are not? */
enum fw_status fw_io__check_row(struct fw_io__reader *reader,
                                const struct fw_io__kind *kind,
                                struct json_object *row, unsigned *lacking);

/* "expected <what>" */
enum fw_status fw_io__want(struct fw_io__reader *reader, const char *what);

/* NULL with an error when it is no text, or holds a NUL. */
const char *fw_io__text_of(struct fw_io__reader *reader,
                           struct json_object *from);
enum fw_status fw_io__read_size(struct fw_io__reader *reader,
                                struct json_object *from, char *at);
enum fw_status fw_io__read_ref(struct fw_io__reader *reader,
                               const struct fw_io__member *member,
                               struct json_object *from, char *at);

/* Any member that is one figure, text or word; `to` is the struct it is of. */
enum fw_status fw_io__read_simple(struct fw_io__reader *reader,
                                  const struct fw_io__member *member,
                                  struct json_object *from, char *to, char *at);

#endif
