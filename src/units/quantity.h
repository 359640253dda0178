/* The parts of reading a quantity: the kinds (kind.c), the number (number.c),
 * the unit (unit.c), both as one figure (try.c), and the spelling to try
 * instead (hint.c). */
#ifndef FW_UNITS_QUANTITY_H
#define FW_UNITS_QUANTITY_H

#include <foldwright/quantity.h>
#include <stdbool.h>

struct fw_quantities {
    void *system; /* of UDUNITS; NULL until the first unit is read */
};

/* What is wrong with a text, from the first thing that is. */
enum fw_fault {
    FW_FAULT_NONE,
    FW_FAULT_NO_NUMBER,
    FW_FAULT_SHAPE, /* "1,500", "2 1/2", "4-6" */
    FW_FAULT_SIZE,  /* no double holds it */
    FW_FAULT_NEGATIVE,
    FW_FAULT_NO_UNIT,
    FW_FAULT_UNIT, /* unknown, or of another kind */
    FW_FAULT_TON,
    FW_FAULT_NOT_WHOLE,
    FW_FAULT_BARE_SHARE
};

enum { fw_number_room = 64 };

struct fw_number {
    double value;
    char spelling[fw_number_room]; /* as it was written */
    const char *rest;              /* what follows it and its spaces */
};

/* What a kind is called, and how people write it. */
struct fw_kind_row {
    const char *name;
    const char *inside;           /* for UDUNITS; NULL: read without it */
    const char *examples[2];      /* by enum fw_units */
    const char *const *spellings; /* common units, NULL after the last; the
                                     first two by enum fw_units */
};

/* What stands around a text: how it is to be read. */
struct fw_asked {
    struct fw_quantities *quantities;
    enum fw_kind kind;
    enum fw_units units;
    int units_given;
};

const struct fw_kind_row *fw_quantity__row(enum fw_kind kind);

/* May it be below 0? */
bool fw_quantity__has_sign(enum fw_kind kind);

/* Past spaces, the unbroken ones too. */
const char *fw_quantity__skip_spaces(const char *text);

enum fw_fault fw_quantity__number(const char *text, struct fw_number *out);

/* Read without a message for the text; a status other than FW_OK says that
 * reading was not possible at all. */
enum fw_status fw_quantity__try(const struct fw_asked *asked, const char *text,
                                double *out, enum fw_fault *fault,
                                struct fw_error *err);

/* The factor from the unit to the one inside, to 15 digits. */
enum fw_status fw_unit__factor(const struct fw_asked *asked, const char *unit,
                               double *factor, enum fw_fault *fault,
                               struct fw_error *err);
void fw_unit__close(void *system);

/* The same of two units as UDUNITS writes them, where both are made of those
 * that a farm uses: false where they are not. same: of one kind, so that the
 * factor is one. usual.c */
bool fw_unit__usual(const char *unit, const char *inside, double *factor,
                    bool *same);

/* Up to 15 digits of it: what was written in round figures stays round. */
double fw_unit__rounded(double number);

/* Spellings that work, for the end of a message: '"62 kg"', or several joined
 * by "or". Each was read before it is named. */
enum { fw_hint_room = 256 };
void fw_hint__write(const struct fw_asked *asked, const char *text,
                    enum fw_fault fault, char hint[fw_hint_room]);

#endif
