/* What the farm file and the options share on their way to the draft. */
#ifndef FW_KEYS_WALK_H
#define FW_KEYS_WALK_H

#include "keys/schema.h"

/* Read text into the row's member under the cursor, and note where it stood. */
enum fw_status fw_farm__put(struct fw_farm__reader *reader, size_t row,
                            const struct fw_farm__at *at, const char *text,
                            struct fw_error *err);

/* One line of text, without anything that steers a terminal? */
enum fw_status fw_farm__check_line(const char *text, size_t length,
                                   struct fw_error *err);

/* Move the cursor into a group, or to an item of a list: index equal to the
 * count of items is a new one. */
void fw_farm__enter(struct fw_farm__reader *reader, size_t row, bool option);
enum fw_status fw_farm__enter_item(struct fw_farm__reader *reader, size_t row,
                                   size_t index, struct fw_error *err);
size_t *fw_farm__item_count(struct fw_farm__reader *reader, size_t row);

enum fw_status fw_farm__no_such_key(const char *group, const char *key,
                                    struct fw_error *err);
void fw_farm__use_units(struct fw_farm__reader *reader, const char *text);

#endif
