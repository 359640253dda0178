/* What to say of a condition that a layer does not understand. */
#include "base/fail.h"
#include "io/map.h"

#include <ctype.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

/* Does the condition speak of a column of that name? */
static bool speaks_of(const char *where, const char *name)
{
    const size_t length = strlen(name);
    for (const char *at = where; *at; at++) {
        const bool starts =
            at == where || !(isalnum((unsigned char)at[-1]) || at[-1] == '_');
        const char after = strlen(at) > length ? at[length] : '\0';
        if (starts && !strncasecmp(at, name, length) &&
            !(isalnum((unsigned char)after) || after == '_'))
            return true;
    }
    return false;
}

/* As many as a person reads. */
static void name_columns(OGRFeatureDefnH layer, char *out, size_t room)
{
    enum { most = 12 };
    const int count = OGR_FD_GetFieldCount(layer);
    size_t used = 0;
    for (int i = 0; i < count && i < most && used + 1 < room; i++) {
        const int more =
            snprintf(out + used, room - used, "%s%.60s", i ? ", " : "",
                     OGR_Fld_GetNameRef(OGR_FD_GetFieldDefn(layer, i)));
        used += more > 0 ? (size_t)more : 0;
    }
    if (count > most && used + 1 < room)
        snprintf(out + used, room - used, " and %d more", count - most);
}

/* Databases keep the feature's number in a column of any name, and know it by
 * that alone; elsewhere it is FID. */
enum fw_status fw_io__bad_filter(OGRLayerH layer,
                                 const struct fw_map_request *request,
                                 const struct fw_io__session *session,
                                 struct fw_error *err)
{
    static const char *const usual[] = {"fid", "ogc_fid", "objectid", "id"};
    const char *own = OGR_L_GetFIDColumn(layer);
    bool number = false;
    for (size_t i = 0; i < sizeof usual / sizeof usual[0]; i++)
        number = number || (OGR_FD_GetFieldIndex(OGR_L_GetLayerDefn(layer),
                                                 usual[i]) < 0 &&
                            speaks_of(request->where, usual[i]));
    if (number)
        return fw_fail(err, FW_EINPUT,
                       "the filter \"%s\" cannot be used; the number of a "
                       "feature is called %s in this layer: \"%s = 3\"",
                       request->where, *own ? own : "FID", *own ? own : "FID");
    char columns[512] = "none";
    name_columns(OGR_L_GetLayerDefn(layer), columns, sizeof columns);
    return fw_fail(err, FW_EINPUT,
                   "the filter \"%s\" cannot be used: %s; its columns are %s; "
                   "expected something like \"name = 'north'\"",
                   request->where, fw_io__said(session, "it is no condition"),
                   columns);
}
