/* What a search for a way keeps, and in which order cells are gone on from. */
#ifndef FW_MOVES_SEARCH_H
#define FW_MOVES_SEARCH_H

#include "moves/inner.h"

struct fw_moves__cost {
    double over_m; /* of ungrazed ground */
    size_t narrow, openings;
    double way_m;
};

struct fw_moves__reach { /* the best way found to a cell */
    size_t when;         /* in which search; else it is not known */
    bool done;
    size_t place; /* in the heap */
    struct fw_moves__cost cost;
    struct fw_point at; /* where it is entered */
    size_t before;      /* cell, or FW_NONE where the way begins */
    size_t door;        /* by which; FW_NONE where it begins */
};

/* A cell waits when it was not grazed, or no fence parts it from what was not.
 */
struct fw_moves__waiting {
    size_t when; /* in which search; else it is not known */
    size_t what; /* was not grazed; FW_NONE: nothing */
};

/* What serves for one search after the other: nothing is cleared between. */
struct fw_moves__search {
    const struct fw_moves__walk *walk;
    const struct fw_land *land;
    size_t when;
    size_t field, from, to;
    struct fw_moves__reach *reaches;   /* of the field's cells */
    struct fw_moves__waiting *waiting; /* of these */
    size_t *list;                      /* for some of them */
    size_t *heap, heap_count;
    size_t least; /* openings that are left to make from everywhere else */
    size_t last;  /* the best cell to end in as far as is known */
    struct fw_moves__cost cost; /* of the whole way there */
};

struct fw_moves__reach *
fw_moves__reach_of(const struct fw_moves__search *search, size_t cell);
bool fw_moves__is_known(const struct fw_moves__search *search,
                        const struct fw_moves__reach *reach);
bool fw_moves__is_less(const struct fw_moves__cost *a,
                       const struct fw_moves__cost *b);

/* Was it grazed, or is it never? */
bool fw_moves__is_free(const struct fw_moves__walk *walk, size_t cell);

/* Does a line stand there that is not open? */
bool fw_moves__is_shut(const struct fw_moves__walk *walk, size_t door);

/* Was a cell not grazed, or does no fence part it from what was not? */
bool fw_moves__does_wait(const struct fw_moves__search *search, size_t cell);

/* What was not grazed there: itself, or what no fence parts from it; FW_NONE:
 * nothing. */
size_t fw_moves__waiting_at(const struct fw_moves__search *search, size_t cell);

/* The last opening is certain: who is not there yet has it to make. */
struct fw_moves__cost fw_moves__at_least(const struct fw_moves__search *search,
                                         size_t cell);

/* A cell is reached by a way that is better than the one known. */
void fw_moves__reach(struct fw_moves__search *search, size_t cell,
                     const struct fw_moves__reach *reached);

/* The nearest of those that were not gone on from; FW_NONE: there is none. */
size_t fw_moves__take_first(struct fw_moves__search *search);

#endif
