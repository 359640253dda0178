/* The members of a plan as tables: one row says where a member lies in its
 * struct, how plan.json calls it and of what type it is. Writing and reading
 * walk the same rows, so that neither can forget what the other knows.
 *
 * What is not told is null: each type says which value means that. */
#ifndef FW_STORE_MEMBERS_H
#define FW_STORE_MEMBERS_H

#include <foldwright/io.h>
#include <foldwright/plan.h>

enum fw_io__type {
    FW_IO__NULL,        /* promised by the format, not known yet: always null */
    FW_IO__NUMBER,      /* double; null unless the bool at `known` holds */
    FW_IO__NUMBER_TOLD, /* null when negative */
    FW_IO__NUMBER_SET,  /* null when 0 */
    FW_IO__NUMBER_SOME, /* null when NaN */
    FW_IO__DEGREES,     /* of a place that is no vertex: 1e-10 are 11 um */
    FW_IO__METRES,      /* the same: to 10 um */
    FW_IO__FILE_UNITS,  /* the same, whatever the unit of its map */
    FW_IO__INT,
    FW_IO__INT_TOLD, /* null when negative */
    FW_IO__UNSIGNED, /* null as for FW_IO__NUMBER */
    FW_IO__SIZE,     /* size_t; null for FW_NONE */
    FW_IO__BOOL,
    FW_IO__DAY,    /* "2026-05-04"; null for FW_NO_DAY */
    FW_IO__TEXT,   /* char[size] */
    FW_IO__STRING, /* char *, owned, or NULL */
    FW_IO__SOURCE, /* const char * that the struct does not own, or NULL */
    FW_IO__WORD,   /* an enum; a word that is NULL is null */
    FW_IO__BITS,   /* an enum of bits: the list of their words */
    FW_IO__REF,    /* size_t into the array `size`; the name of what is there */
    FW_IO__REFS,   /* struct fw_list of the plan's time: a list of names */
    FW_IO__OBJECT, /* a struct within */
    FW_IO__PLACE,  /* struct fw_plan_place; null unless given */
    FW_IO__PACED,  /* struct fw_plan_paced; null when untold */
    FW_IO__RINGS,  /* struct fw_plan_rings: pieces of rings of vertices */
    FW_IO__SIZES,  /* size_t *, count at `size` */
    FW_IO__POSTS,  /* of a fence: its part of the plan's posts; count at `at` */
    FW_IO__SAID,   /* of a finding: what its text has beyond its rule's; null:
                      nothing */
    FW_IO__ARRAY,  /* of structs, count at `size`, capacity at `known` */
    FW_IO__ARRAY_SAME, /* the same; the count is that of an array before it */
    FW_IO__NOTES       /* struct fw_notes */
};

/* What can be referred to by name. */
enum fw_io__target {
    FW_IO__FIELDS,
    FW_IO__PADDOCKS,
    FW_IO__LANES,
    FW_IO__FENCES,
    FW_IO__WATERS,
    FW_IO__GATES,
    FW_IO__TARGETS
};

#define FW_IO__NOWHERE ((size_t)-1)

struct fw_io__kind;

struct fw_io__member {
    const char *name;
    enum fw_io__type type;
    size_t at;
    size_t size;
    size_t known;
    const struct fw_io__kind *of;
    const char *const *words;
    size_t word_count;
};

/* What there is much of is a row of values, whose names stand once in the file,
 * in `columns`. Rows of places begin with lon and lat and may end with x and y:
 * without these they are what lon and lat are. */
struct fw_io__kind {
    size_t size;
    const struct fw_io__member *members;
    size_t count;
    size_t least; /* values that a row has; 0: it is an object */
};

extern const struct fw_io__kind fw_io__plan_kind;
extern const struct fw_io__kind fw_io__place_kind;
extern const struct fw_io__kind fw_io__paced_kind;
extern const struct fw_io__kind fw_io__post_kind;
extern const struct fw_io__kind fw_io__rule_kind;

/* All that are rows, by the names that `columns` has. */
struct fw_io__columns {
    const char *name;
    const struct fw_io__kind *of;
};
#define FW_IO__ROW_KINDS 10
extern const struct fw_io__columns fw_io__columns[FW_IO__ROW_KINDS];

extern const char *const fw_io__level_words[3];

/* What the findings by one rule say in common: they stand once in the file. */
struct fw_io__rule {
    char rule[FW_ID];
    char text[sizeof((struct fw_plan_finding *)0)->text];
    char source[sizeof((struct fw_plan_finding *)0)->source];
};

/* In the order in which findings name them; *out goes to fw_free. FW_EINPUT:
 * two findings give one rule other sources. */
enum fw_status fw_io__rules_make(const struct fw_plan *plan,
                                 struct fw_io__rule **out, size_t *count,
                                 struct fw_error *err);

/* Its place among them; FW_NONE: it has none. */
size_t fw_io__rule_find(const struct fw_io__rule *rules, size_t count,
                        const char *rule);

#define FW_IO__PLAN_FORMAT "foldwright-plan/2"

#endif
