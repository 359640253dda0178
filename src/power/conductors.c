/* What wires are made of, and so what they resist. Twisted strands of drawn
 * steel and copper side by side: rho / (n pi d^2 / 4). */
#include "base/fail.h"
#include "power/words.h"
#include <foldwright/power.h>

#define MILE_M 1609.344
#define STAINLESS                                                              \
    "drawn stainless steel at 0.72 uohm m (0.69 in print: 4 % less)"
#define STEEL "steel at 0.172 uohm m"
#define ALUMINIUM "aluminium at 0.0283 uohm m; alloys have 15 % more"
#define COPPER_IN "; make-up: old.lafranceagricole.fr; copper at 0.0173 uohm m"

static const struct fw_conductor rows[] = {
    /* 56 ohm a mile, which the page also gives as 35 ohm/km. */
    {"steel-2.5", "galvanized steel, 2.5 mm (12.5 gauge)", 56 / MILE_M,
     "a maker's handbook: what affects the resistance of a fence; 30 to 50 "
     "ohm/km: techniquesdelevage.fr",
     FW_MARK_PUBLISHED},
    {"steel-2.0", "galvanized steel, 2.0 mm (about 14 gauge)", 0.0547, STEEL,
     FW_MARK_COMPUTED},
    {"steel-1.8", "galvanized steel, 1.8 mm", 0.0676, STEEL, FW_MARK_COMPUTED},
    {"steel-1.6", "galvanized steel, 1.6 mm (16 gauge)", 0.0855,
     STEEL "; 80 to 100 ohm/km: techniquesdelevage.fr", FW_MARK_COMPUTED},
    {"steel-stranded", "steel cable of several strands, 1.8 mm", 0.2,
     "about 200 ohm/km: techniquesdelevage.fr", FW_MARK_PUBLISHED},
    {"aluminium-2.5", "aluminium, 2.5 mm (12.5 gauge)", 0.00577, ALUMINIUM,
     FW_MARK_COMPUTED},
    {"aluminium-2.0", "aluminium, 2.0 mm (about 14 gauge)", 0.00901, ALUMINIUM,
     FW_MARK_COMPUTED},
    {"aluminium-coated-2.5", "steel coated with aluminium, 2.5 mm",
     56 / MILE_M / 3, "a third of plain steel: informedfarmers.com",
     FW_MARK_PUBLISHED},
    {"poly-3x0.15", "polywire, 3 steel strands of 0.15 mm", 13.6, STAINLESS,
     FW_MARK_COMPUTED},
    {"poly-3x0.20", "polywire, 3 steel strands of 0.20 mm", 7.64, STAINLESS,
     FW_MARK_COMPUTED},
    {"poly-6x0.16", "polywire, 6 steel strands of 0.16 mm", 5.97, STAINLESS,
     FW_MARK_COMPUTED},
    {"poly-6x0.20", "polywire, 6 steel strands of 0.20 mm", 3.82, STAINLESS,
     FW_MARK_COMPUTED},
    {"poly-9x0.20", "polywire, 9 steel strands of 0.20 mm", 2.55, STAINLESS,
     FW_MARK_COMPUTED},
    {"poly-copper-1x0.40",
     "polywire, 1 tinned copper strand of 0.40 mm and 8 of steel, 0.20 mm",
     0.131, STAINLESS COPPER_IN, FW_MARK_COMPUTED},
    {"poly-copper-3x0.25",
     "polywire, 3 tinned copper strands of 0.25 mm and 6 of steel, 0.20 mm",
     0.114, STAINLESS COPPER_IN, FW_MARK_COMPUTED},
    /* No figure for a net was found. A worn net has fewer live strings than a
     * new one, and knots: five of the usual seven or so are taken. */
    {"netting",
     "netting, the whole of it: no figure was found; assumed are five live "
     "strings of 3 steel strands of 0.20 mm, joined at both ends",
     7.64 / 5, "no source; assumed make-up, " STAINLESS, FW_MARK_PRACTICE},
};
static const size_t row_count = sizeof rows / sizeof rows[0];

const struct fw_conductor *fw_power_conductors(size_t *count)
{
    *count = row_count;
    return rows;
}

enum fw_status fw_power_conductor_find(const char *word,
                                       const struct fw_conductor **out,
                                       struct fw_error *err)
{
    const char *words[sizeof rows / sizeof rows[0]];
    for (size_t i = 0; i < row_count; i++)
        words[i] = rows[i].word;
    const struct fw_power_words table = {words, row_count, "a conductor",
                                         "a data sheet's \"3.82 ohm/m\""};
    size_t found;
    const enum fw_status status = fw_power__find(&table, word, &found, err);
    if (!status)
        *out = &rows[found];
    return status;
}

enum fw_status fw_power_conductor_read(struct fw_quantities *quantities,
                                       const char *text, enum fw_units units,
                                       double *ohm_m,
                                       const struct fw_conductor **row,
                                       struct fw_error *err)
{
    const struct fw_conductor *found = NULL;
    double value = 0;
    enum fw_status status;
    if (fw_power__is_quantity(text)) {
        status = fw_quantity_read(quantities, text, FW_KIND_WIRE_RESISTANCE,
                                  units, 0, &value, err);
        if (!status && !(value > 0))
            status = fw_fail(err, FW_EINPUT,
                             "\"%.60s\": expected a resistance over 0", text);
    } else {
        status = fw_power_conductor_find(text, &found, err);
    }
    if (status)
        return status;
    *ohm_m = found ? found->ohm_m : value;
    if (row)
        *row = found;
    return FW_OK;
}
