/* The columns of materials.csv and moves.csv. A row says which thing a column
 * is about and which member of it, whose value, null and sentence stand in the
 * table of members; or what works it out. The page of the guide comes from it
 * too. */
#ifndef FW_REPORT_CSV_H
#define FW_REPORT_CSV_H

#include "base/text.h"
#include "store/members.h"

/* What a line of such a file is about. */
enum fw_report__about {
    FW_REPORT__MATERIAL,
    FW_REPORT__MOVE,
    FW_REPORT__ENTERED, /* paddock */
    FW_REPORT__SET,     /* fences, all of them: a column is their sum */
    FW_REPORT__FRONT,   /* of these: the flock will have it in front */
    FW_REPORT__END_A,   /* of that one */
    FW_REPORT__END_B,
    FW_REPORT__ABOUT
};

struct fw_report__line;
struct fw_report__column {
    const char *name;
    enum fw_report__about about;
    const char *member; /* NULL: it is none */
    void (*write)(struct fw_text *to, const struct fw_report__line *line,
                  const struct fw_report__column *column);
    const char *says; /* NULL: what the member's row says */
};

struct fw_report__csv {
    const char *name;
    const struct fw_report__column *columns;
    size_t count;
};

#define FW_REPORT__CSVS 2
extern const struct fw_report__csv fw_report__csvs[FW_REPORT__CSVS];

/* "the paddock that is entered" */
extern const char *const fw_report__about_words[FW_REPORT__ABOUT];

/* The row of its member; NULL: it is none. */
const struct fw_io__member *
fw_report__column_member(const struct fw_report__column *column);

#endif
