/* How a call says that it could not do its work, and what it noticed.
 *
 * Every call that can fail returns a status and takes a struct fw_error
 * last. The struct is the caller's, needs no release and may be NULL. Any other
 * pointer that is NULL where its call does not say that it may be is answered:
 * with FW_EUSAGE, or with 0, NULL or nothing done where there is no status. Its
 * text is one line for a person: which value, what was expected, what to try.
 * Notes are what a person should know although the work was done. */
#ifndef FW_ERROR_H
#define FW_ERROR_H

#include <stddef.h>

#ifdef __cplusplus
extern "C" {
#endif

#ifndef FW_API
#define FW_API __attribute__((visibility("default")))
#endif

enum fw_status {
    FW_OK = 0,
    FW_EPLAN,   /* no plan can be made: too little grass, gate outside */
    FW_EUSAGE,  /* the call or the command line is wrong */
    FW_EINPUT,  /* an input is missing or bad */
    FW_EOUTPUT, /* an output cannot be written */
    FW_ENOMEM,  /* out of memory */
    FW_EFAULT   /* a promise of the library's own is broken */
};

struct fw_error {
    enum fw_status status;
    char text[1024]; /* one line, no full stop, never empty on failure */
};

enum fw_level {
    FW_LEVEL_NOTE,    /* good to know: a ring was turned round */
    FW_LEVEL_WARNING, /* look at it: the water is far */
    FW_LEVEL_DANGER   /* may hurt someone or let the flock out */
};

struct fw_note {
    enum fw_level level;
    char *where; /* file, line or feature; "" when it is the whole plan */
    char *text;  /* one line */
};

/* A list that grows; {0} is an empty one. Release when done. */
struct fw_notes {
    struct fw_note *items;
    size_t count;
    size_t capacity;
};

/* The library's version: "0.1.0". */
FW_API const char *fw_version(void);

/* Free a text or bytes that the library has made; NULL is fine. */
FW_API void fw_bytes_free(char *bytes);

/* The word for a level: "note", "warning", "danger". */
FW_API const char *fw_level_name(enum fw_level level);

/* Free what the list holds and make it empty again. */
FW_API void fw_notes_release(struct fw_notes *notes);

/* The nearest of the words to `word` by edit distance, for "did you mean";
 * NULL when none is near (more than a third of its letters differ). */
FW_API const char *fw_text_nearest(const char *word, const char *const *words,
                                   size_t count);

#ifdef __cplusplus
}
#endif
#endif
