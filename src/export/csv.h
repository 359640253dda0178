/* The columns of materials.csv and moves.csv. A row says which thing a column
 * is about and which member of it, whose value, null and sentence stand in the
 * table of members; or what works it out. The page of the guide comes from it
 * too. */
#ifndef FW_EXPORT_CSV_H
#define FW_EXPORT_CSV_H

#include "base/text.h"
#include "store/members.h"

/* What a line of such a file is about. */
enum fw_export__about {
    FW_EXPORT__MATERIAL,
    FW_EXPORT__MOVE,
    FW_EXPORT__ENTERED, /* paddock */
    FW_EXPORT__WATER,   /* of it */
    FW_EXPORT__SET,     /* fences, all of them: a column is their sum */
    FW_EXPORT__FRONT,   /* of these: the flock will have it in front */
    FW_EXPORT__END_A,   /* of that one */
    FW_EXPORT__END_B,
    FW_EXPORT__ABOUT
};

struct fw_export__line;
struct fw_export__column {
    const char *name;
    enum fw_export__about about;
    const char *member; /* NULL: it is none */
    void (*write)(struct fw_text *to, const struct fw_export__line *line,
                  const struct fw_export__column *column);
    const char *says; /* NULL: what the member's row says */
};

struct fw_export__csv {
    const char *name;
    const struct fw_export__column *columns;
    size_t count;
};

#define FW_EXPORT__CSVS 2
extern const struct fw_export__csv fw_export__csvs[FW_EXPORT__CSVS];

/* "the paddock that is entered" */
extern const char *const fw_export__about_words[FW_EXPORT__ABOUT];

/* The row of its member; NULL: it is none. */
const struct fw_io__member *
fw_export__column_member(const struct fw_export__column *column);

#endif
