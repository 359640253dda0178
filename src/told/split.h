/* Fields that come apart, and become several. */
#ifndef FW_TOLD_SPLIT_H
#define FW_TOLD_SPLIT_H

#include "keys/reader.h"

/* exclude.c: a field of its own out of a piece of the whole one, which it takes
 * also on failure. Without a name it keeps that of the piece. */
enum fw_status fw_farm__piece(const struct fw_farm_field *whole,
                              struct fw_field *piece, const char *name,
                              struct fw_farm_field *out, struct fw_error *err);

/* own.c: which condition is told for the grass of a field with such keys of its
 * own in draft.each, from 1; 0: with none. */
enum fw_condition fw_farm__condition(const struct fw_farm__reader *reader,
                                     size_t each);

/* Is what the field has in draft.each told for the whole one that it is part
 * of? Else it is its own. */
bool fw_farm__is_of_whole(const struct fw_farm__reader *reader, size_t field);

/* tour.c: put the fields in that order, and with each of them what it has of
 * its own. */
enum fw_status fw_farm__reorder(struct fw_farm__reader *reader,
                                const size_t *order, struct fw_error *err);

/* borders.c. Is the field meant where one of that name is spoken of: itself, or
 * the whole one that it is part of? */
bool fw_farm__is_part_of(const struct fw_farm_field *field, const char *name);

/* The field on which corners and sides that are told for it are counted. */
const struct fw_field *fw_farm__outer(const struct fw_farm_field *field);

/* Are all fields parts of one, or is there only one? */
bool fw_farm__is_one(const struct fw_farm *farm);

/* What the sides of a part hold: those of the whole field that they
 * are on, told by side of that, and the fence on a border. */
void fw_farm__part_sides(struct fw_farm_field *part,
                         const struct fw_farm_side *sides);

#endif
