/* All rows of the register: the figures, and the tables of subjects whose rows
 * have a source each, intake by class and the rules of safety. */
#ifndef FW_REPORT_REGISTER_H
#define FW_REPORT_REGISTER_H

#include <foldwright/figures.h>

struct fw_report__register {
    struct fw_figure *rows;
    size_t count, capacity;
    char **texts; /* of the rows that are no figures; owned */
    size_t text_count, text_capacity;
};

/* Release in both cases. */
enum fw_status fw_report__register(struct fw_report__register *out,
                                   struct fw_error *err);
void fw_report__register_release(struct fw_report__register *all);

#endif
