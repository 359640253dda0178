/* A farm file's bytes, as far as they go without a map: the document, the
 * draft, the farm, and its places on a field of our own. */
#include "fuzz.h"

#include "crs/crs.h"
#include "farm/farm.h"
#include "keys/walk.h"

#include <stdlib.h>
#include <string.h>

static struct fw_error refusal;

const char *fuzz_refused(void)
{
    return refusal.text[0] ? refusal.text : NULL;
}

/* Made once: a coordinate system costs more than all the rest. */
static struct fw_field *own_field(void)
{
    static struct fw_field *field;
    struct fw_xy points[] = {
        {9, 51}, {9.001, 51}, {9.001, 51.001}, {9.0005, 51.0004}, {9, 51.001}};
    size_t starts[] = {0, 5};
    const struct fw_shape shape = {.points = points,
                                   .point_count = 5,
                                   .ring_start = starts,
                                   .ring_count = 1};
    struct fw_crs *crs;
    if (field || fw_crs_new("OGC:CRS84", &crs, NULL))
        return field;
    if (fw_field_new(&shape, "own", crs, &field, NULL))
        field = NULL;
    fw_crs_free(crs);
    return field;
}

static void place(struct fw_farm__reader *reader,
                  const struct fw_farm__text *told)
{
    struct fw_error err;
    struct fw_spot spot;
    const struct fw_field *field = own_field();
    if (!field)
        abort();
    if (told->at.given &&
        !fw_farm__spot(reader, field, told->text, &spot, &err))
        fw_farm__distance_m(field, spot.point);
}

/* What is refused is said in one line, and never with nothing. */
static void check_error(const struct fw_error *err)
{
    if (!err->text[0] || strchr(err->text, '\n') ||
        !memchr(err->text, '\0', sizeof err->text))
        abort();
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t count)
{
    const struct fw_farm_request request = {.farm_path = "fuzz.yaml",
                                            .fields_only = true};
    struct fw_error err = {0};
    refusal = err;
    struct fw_farm__reader *reader = fw_farm__reader_new(&request, NULL);
    if (!reader)
        return 0;
    enum fw_status status =
        fw_farm__load(reader, (const char *)bytes, count, &err);
    if (!status)
        status = fw_farm__walk(reader, &err);
    if (!status)
        status = fw_farm__build(reader, &err);
    if (status) {
        check_error(&err);
        refusal = err;
    } else {
        place(reader, &reader->draft.gate);
        place(reader, &reader->draft.water);
        place(reader, &reader->draft.energizer);
    }
    fw_farm__reader_free(reader);
    return 0;
}
