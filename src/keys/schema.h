/* The schema: one row a key, for the file, the options, the suggestions, the
 * help. rows.h holds the table; schema.c makes the words (struct fw_farm_key)
 * and the readings below out of it, with the same index. */
#ifndef FW_KEYS_SCHEMA_H
#define FW_KEYS_SCHEMA_H

#include "keys/reader.h"

enum fw_farm__shape {
    FW_SHAPE_VALUE,
    FW_SHAPE_VALUES,  /* one value or a list of them */
    FW_SHAPE_PATTERN, /* a value or keys of its own: "mon-fri: 1 day" */
    FW_SHAPE_GROUP,   /* keys below it */
    FW_SHAPE_LIST     /* a list of groups */
};

enum fw_farm__owner {
    FW_OWNER_FARM,
    FW_OWNER_CLASS,
    FW_OWNER_FORAGE,
    FW_OWNER_PERIMETER,
    FW_OWNER_EDGE,
    FW_OWNER_EACH,
    FW_OWNER_MAP,
    FW_OWNER_PART
};

struct fw_farm__reading {
    enum fw_farm__shape shape;
    enum fw_farm__owner owner;
    size_t offset; /* of the member in its owner */
    enum fw_status (*set)(struct fw_farm__reader *reader,
                          const struct fw_farm__reading *row, void *to,
                          const char *text, struct fw_error *err);
    enum fw_kind kind;
    double least, most;       /* after scale */
    double scale;             /* from the kind's unit to the member's; 0: 1 */
    const char *const *words; /* of a pick, at their values; NULL: untold */
    size_t word_count;
    const char *like; /* the group whose keys are below it too */
    const char *example;
    const char *range;     /* in words; NULL: its words, or least to most */
    const char *or_else;   /* behind these */
    const char *figure;    /* its row of the register, or NULL */
    const char *also;      /* behind the figure's value */
    const char *otherwise; /* in words; NULL: the figure, or the first word */
};

size_t fw_farm__row_count(void);
const struct fw_farm__reading *fw_farm__reading(size_t row);
const char *fw_farm__path(size_t row);

/* say.c: what <foldwright/keys.h> has of a key, for its row. */
const char *fw_farm__range(const struct fw_farm__reading *row,
                           char text[FW_FARM_KEY_WORDS]);
const char *fw_farm__otherwise(const struct fw_farm__reading *row,
                               char text[FW_FARM_KEY_WORDS]);

/* What a message names of a key of the table: its example; and where it is told
 * so, "flock[0].weight: 62 kg (--weight 62kg)", of which item when it is one of
 * a list: an option tells the first. Fills and returns text. */
const char *fw_farm__example(const char *path);
const char *fw_farm__tell(const char *path, size_t item,
                          char text[FW_FARM_KEY_WORDS]);

/* The same in the units that they read, for what is a weight, a height or a
 * mass on an area. */
const char *fw_farm__tell_in(enum fw_units units, const char *path, size_t item,
                             char text[FW_FARM_KEY_WORDS]);

/* The row of a key below a group ("" for the top); FW_NO_ROW: there is none. */
#define FW_NO_ROW ((size_t)-1)
size_t fw_farm__find(const char *group, const char *leaf);

/* The key's leaf when the row lies straight below the group, else NULL. */
const char *fw_farm__leaf(size_t row, const char *group);

/* ---- the setters, by kind of value: set.c ---- */
#define FW_SETTER(name)                                                        \
    enum fw_status name(                                                       \
        __attribute__((unused)) struct fw_farm__reader *reader,                \
        __attribute__((unused)) const struct fw_farm__reading *row, void *to,  \
        const char *text, struct fw_error *err)
FW_SETTER(fw_farm__set_text);
FW_SETTER(fw_farm__set_quantity);
FW_SETTER(fw_farm__set_money);
FW_SETTER(fw_farm__set_number);
FW_SETTER(fw_farm__set_pick);
FW_SETTER(fw_farm__set_answer);
FW_SETTER(fw_farm__set_day);
FW_SETTER(fw_farm__set_state);
FW_SETTER(fw_farm__set_intake);
FW_SETTER(fw_farm__set_sward);
FW_SETTER(fw_farm__set_line);
FW_SETTER(fw_farm__set_break);
FW_SETTER(fw_farm__set_nitrogen);
FW_SETTER(fw_farm__set_density);
FW_SETTER(fw_farm__set_rule);
FW_SETTER(fw_farm__set_role);
/* growth.c */
FW_SETTER(fw_farm__set_growth);
FW_SETTER(fw_farm__set_loss);
/* wires.c */
FW_SETTER(fw_farm__set_conductor);
FW_SETTER(fw_farm__set_leakage);
FW_SETTER(fw_farm__set_soil);
FW_SETTER(fw_farm__set_bonded);
/* looked.c */
FW_SETTER(fw_farm__set_looked);
/* week.c */
FW_SETTER(fw_farm__set_stay);
FW_SETTER(fw_farm__set_away);
/* cover.c */
FW_SETTER(fw_farm__set_covers);
FW_SETTER(fw_farm__set_only);
FW_SETTER(fw_farm__set_copy);

#endif
