/* Temporary and permanent fence: posts, wire, reels, the kit to own, the list
 * to buy. Lines come in as points of the local plane. */
#ifndef FW_KIT_H
#define FW_KIT_H

#include <stdbool.h>
#include <stddef.h>

#ifdef __cplusplus
extern "C" {
#endif

/* What a kit of moved fence consists of: the most that stands at once. */
struct fw_kit {
    int reels;
    int posts;
    double wire_m;
};

#ifdef __cplusplus
}
#endif
#endif
