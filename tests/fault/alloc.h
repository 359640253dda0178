/* Refuse the nth allocation of the library, counted from now; 0 refuses none.
 */
#ifndef FW_FAULT_ALLOC_H
#define FW_FAULT_ALLOC_H

#include <stdbool.h>
#include <stddef.h>

void fault_refuse(size_t nth);
size_t fault_made(void); /* allocations since */
size_t fault_held(void); /* blocks that are not freed */

#endif
