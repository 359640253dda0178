#include "units/quantity.h"
#include "base/alloc.h"
#include "base/fail.h"
#include "base/text.h"

static const char *reason(enum fw_fault fault)
{
    switch (fault) {
    case FW_FAULT_NO_NUMBER:
        return ": expected a number first";
    case FW_FAULT_SHAPE:
        return ": expected one number, a point for its decimals and nothing "
               "else in it";
    case FW_FAULT_SIZE:
        return ": the number is too large or too small";
    case FW_FAULT_NEGATIVE:
        return ": expected 0 or more";
    case FW_FAULT_NO_UNIT:
        return ": it has no unit";
    case FW_FAULT_TON:
        return ": there are three tons";
    case FW_FAULT_NOT_WHOLE:
        return ": expected a whole number up to 1000000000";
    case FW_FAULT_BARE_SHARE:
        return ": a bare number is 0 to 1";
    case FW_FAULT_UNIT:
    case FW_FAULT_NONE:
        break;
    }
    return "";
}

enum fw_status fw_quantity_read(struct fw_quantities *quantities,
                                const char *text, enum fw_kind kind,
                                enum fw_units units, int units_given,
                                double *out, struct fw_error *err)
{
    if (!quantities || !text || !out)
        return fw_fail_null(err,
                            "the quantities, a text, or where the value goes,");
    const struct fw_asked asked = {quantities, kind, units, units_given};
    double value;
    enum fw_fault fault;
    enum fw_status status = fw_quantity__try(&asked, text, &value, &fault, err);
    if (status)
        return status;
    if (!fault) {
        *out = value;
        return FW_OK;
    }
    if (!err)
        return FW_EINPUT;

    char hint[fw_hint_room];
    char shown[64];
    fw_hint__write(&asked, text, fault, hint);
    return fw_fail(err, FW_EINPUT, "\"%s\" is not %s%s; try %s",
                   fw_text_clip(text, shown, sizeof shown), fw_kind_name(kind),
                   reason(fault), hint);
}

/* The unit database takes some 5 ms to read, which many a run can do
 * without: it waits for the first unit. */
enum fw_status fw_quantities_new(struct fw_quantities **out,
                                 struct fw_error *err)
{
    if (!out)
        return fw_fail_null(err, "where the quantities go");
    struct fw_quantities *quantities = fw_alloc(1, sizeof *quantities);
    if (!quantities)
        return fw_fail_memory(err);
    *out = quantities;
    return FW_OK;
}

void fw_quantities_free(struct fw_quantities *quantities)
{
    if (!quantities)
        return;
    fw_unit__close(quantities->system);
    fw_free(quantities);
}
