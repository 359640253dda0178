/* Numbers with a point for decimals, whatever the host program has set. */
#ifndef FW_LOCALE_PLAIN_H
#define FW_LOCALE_PLAIN_H

#include <locale.h>

/* Calls of other libraries that print or read numbers go between these: this
 * thread, and no other, has the "C" locale in between. */
struct fw_locale {
    locale_t own, before;
};
struct fw_locale fw_locale_enter(void);
void fw_locale_leave(struct fw_locale now);

#endif
