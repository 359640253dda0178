/* The members of a plan as tables: one row says where a member lies in its
 * struct, of what type it is, when it is null, how plan.json calls it, whether
 * the maps have it as a column, and in a sentence what it is. Who writes a plan
 * and who reads it, who fills the layers of its maps, the schema and the guide
 * walk the same rows, so that none can forget what the others know.
 *
 * A unit is the end of a name. */
#ifndef FW_STORE_MEMBERS_H
#define FW_STORE_MEMBERS_H

#include "io/io.h"
#include "plan/plan.h"
#include "store/store.h"

enum fw_io__type {
    FW_IO__NUMBER,     /* double */
    FW_IO__DEGREES,    /* of a place that is no vertex: 1e-10 are 11 um */
    FW_IO__METRES,     /* the same: to 10 um */
    FW_IO__FILE_UNITS, /* the same, whatever the unit of its map */
    FW_IO__INT,
    FW_IO__UNSIGNED,
    FW_IO__SIZE, /* size_t */
    FW_IO__BOOL,
    FW_IO__DAY,    /* "2026-05-04" */
    FW_IO__TEXT,   /* char[size] */
    FW_IO__STRING, /* char *, owned */
    FW_IO__SOURCE, /* const char * that the struct does not own */
    FW_IO__WORD,   /* an enum; a word that is NULL is null */
    FW_IO__BITS,   /* an enum of bits: the list of their words */
    FW_IO__REF,  /* size_t into the array `target`; the name of what is there */
    FW_IO__REFS, /* struct fw_list of the plan's time: a list of names */
    FW_IO__OBJECT, /* a struct within */
    FW_IO__PLACE,  /* struct fw_plan_place; null unless given */
    FW_IO__PACED,  /* struct fw_plan_paced; null when untold */
    FW_IO__RINGS,  /* struct fw_plan_rings: pieces of rings of vertices */
    FW_IO__SIZES,  /* size_t *, count at `count` */
    FW_IO__POSTS,  /* of a fence: its part of the plan's posts; their count */
    FW_IO__SAID,   /* of a finding: what its text has beyond its rule's */
    FW_IO__ARRAY,  /* of structs, count at `count`, capacity at `known` */
    FW_IO__ARRAY_SAME /* the same; the count is that of an array before it */
};

/* Which value means that there is none, or that nobody told: it is null. */
enum fw_io__untold {
    FW_IO__TOLD,    /* none does */
    FW_IO__IF_ZERO, /* 0, NULL */
    FW_IO__IF_NEGATIVE,
    FW_IO__IF_NAN,
    FW_IO__IF_NONE,    /* FW_NONE, FW_NO_DAY */
    FW_IO__IF_EMPTY,   /* "" */
    FW_IO__IF_UNKNOWN, /* whatever it is, unless the bool at `known` holds */
    FW_IO__IF_ELSE     /* the same, unless `told` does of its struct */
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

struct fw_io__kind;
struct fw_io__maps;

/* What a column of a map has: one of the two, or neither. */
struct fw_io__worth {
    double number; /* or NaN */
    const char *text;
};

struct fw_io__member {
    const char *name;
    enum fw_io__type type;
    enum fw_io__untold untold;
    bool on_maps; /* it is a column of its layer as well */
    /* Of a column that plan.json has not: works out that of the i-th. */
    struct fw_io__worth (*work)(const struct fw_io__maps *maps, const void *of,
                                size_t i);
    size_t at, size;
    size_t count; /* at which offset that of a list stands */
    size_t known; /* and a bool, or the capacity of a list; 0: none does */
    bool (*told)(const void *of);
    double least,
        most;  /* of a number, or of how many a list has; most 0: any */
    bool over; /* a number is over the least */
    enum fw_io__target target;
    const struct fw_io__kind *of;
    const char *const *words;
    size_t word_count;
    const char *says;
};

/* What there is much of is a row of values, whose names stand once in the file,
 * in `columns`. Rows of places begin with lon and lat and may end with x and y:
 * without these they are what lon and lat are. */
struct fw_io__kind {
    size_t size;
    const struct fw_io__member *members; /* of plan.json */
    size_t count;
    size_t least; /* values that a row has; 0: it is an object */
    const struct fw_io__member *all; /* these, and those of maps alone */
    size_t all_count;
};

extern const struct fw_io__kind fw_io__plan_kind;
extern const struct fw_io__kind fw_io__place_kind;
extern const struct fw_io__kind fw_io__paced_kind;
extern const struct fw_io__kind fw_io__post_kind;
extern const struct fw_io__kind fw_io__rule_kind;
extern const struct fw_io__kind fw_io__file_kind;
extern const struct fw_io__kind fw_io__move_kind;
extern const struct fw_io__kind fw_io__material_kind;

/* Of a layer each. */
extern const struct fw_io__kind fw_io__field_kind, fw_io__paddock_kind,
    fw_io__lane_kind, fw_io__fence_kind, fw_io__water_kind, fw_io__gate_kind,
    fw_io__energizer_kind, fw_io__finding_kind, fw_io__stay_kind,
    fw_io__standing_kind, fw_io__caution_kind;

/* All that are rows, by the names that `columns` has. */
struct fw_io__columns {
    const char *name;
    const struct fw_io__kind *of;
};
#define FW_IO__ROW_KINDS 10
extern const struct fw_io__columns fw_io__columns[FW_IO__ROW_KINDS];

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

/* member.c: is null among the values of a member? Then a file may lack it: an
 * older build did not know it yet. */
bool fw_io__may_be_null(const struct fw_io__member *member);

/* member.c: the number of a member, false where there is none; its words, NULL
 * where there are none. The labels are all targets'. */
struct fw_io__labels;
bool fw_io__number_of(const struct fw_io__member *member, const char *from,
                      double *out);
const char *fw_io__words_of(const struct fw_io__member *member,
                            const char *from,
                            const struct fw_io__labels *labels);
int fw_io__int_at(const char *at);
size_t fw_io__size_at(const char *at);
const void *fw_io__pointer_at(const char *at);

/* A field over 12 km across is refused; sums of what is far beyond that are no
 * numbers any more. */
#define FW_IO__MOST_M 1e6

#define FW_IO__PLAN_FORMAT "foldwright-plan/2"

#endif
