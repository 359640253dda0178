/* A farm from what a person has told: a farm file (YAML), options, or both, and
 * the maps that they name. */
#ifndef FW_TOLD_H
#define FW_TOLD_H

#include <foldwright/farm.h>
#include <foldwright/request.h>

#ifdef __cplusplus
extern "C" {
#endif

/* FW_EINPUT: a file is missing or bad, a value is wrong or missing. Messages
 * say "hill.yaml:14: flock[1].weight: ..." or "--weight: ...", or file and
 * feature. FW_EPLAN: a gate outside its field. With every_field, *bad_count
 * says how many features were refused; it may be NULL. */
FW_API enum fw_status fw_farm_read(const struct fw_farm_request *request,
                                   struct fw_farm **out, size_t *bad_count,
                                   struct fw_notes *notes,
                                   struct fw_error *err);

#ifdef __cplusplus
}
#endif
#endif
