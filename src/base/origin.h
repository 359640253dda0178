/* Where things came from: the files that were read, and the feature of a map
 * that a field was. */
#ifndef FW_BASE_ORIGIN_H
#define FW_BASE_ORIGIN_H

#include <foldwright/error.h>
#include <stdbool.h>
#include <stddef.h>

/* A file as it was when it was read. */
struct fw_input {
    char *path;     /* as it can be opened; a database or an address as it was
                       written, without its password */
    double size;    /* in bytes */
    unsigned crc32; /* over FW_INPUT_WHOLE of its first and last MiB */
    bool known;     /* size and sum are; not of a database or a pipe */
};

#define FW_INPUT_WHOLE 67108864 /* 64 MiB */

/* {0} is an empty list; no file is in it twice. */
struct fw_inputs {
    struct fw_input *items;
    size_t count, capacity;
};

enum fw_status fw_inputs_copy(struct fw_inputs *to,
                              const struct fw_inputs *from,
                              struct fw_error *err);
void fw_inputs_release(struct fw_inputs *inputs);

/* What was told beside a farm file, or without one: maps of fields and options,
 * as the keys that they set. {0}: nothing. */
struct fw_told_value {
    char *key;   /* FW_TOLD_FIELDS, or one of a farm file: "flock[0].head" */
    char *value; /* without a password */
};
#define FW_TOLD_FIELDS "fields.source"

struct fw_told {
    char *folder; /* from which its paths count; NULL: where the program runs */
    struct fw_told_value *values;
    size_t count, capacity;
};

/* The texts stay the caller's. */
enum fw_status fw_told_add(struct fw_told *told, const char *key,
                           const char *value, struct fw_error *err);
enum fw_status fw_told_copy(struct fw_told *to, const struct fw_told *from,
                            struct fw_error *err);
void fw_told_release(struct fw_told *told);

/* What a column of the field's map says of it. */
struct fw_copied {
    char *column;
    char *value; /* NULL: nothing */
};

/* Where a field came from, to find it there again. */
struct fw_origin {
    size_t fid; /* of its feature; FW_NO_FID: it has none */
    char *layer;
    struct fw_copied *copied; /* the columns that were asked for */
    size_t copied_count, copied_capacity;
};
#define FW_NO_FID ((size_t)-1)

/* Zeroed first; released also after a failure. */
enum fw_status fw_origin_copy(const struct fw_origin *from,
                              struct fw_origin *to, struct fw_error *err);
void fw_origin_release(struct fw_origin *origin);

/* Takes the input's path, also when it fails. */
enum fw_status fw_inputs__add(struct fw_inputs *inputs, struct fw_input input,
                              struct fw_error *err);

#endif
