/* Reads a page of rows for its values, and is undone by figures/end.h:
 *
 *   FIGURE(ID, name, value, unit, least, most, mark, what, source, used)
 *   COUNT(...)  the same, whole, good for an enum or the size of an array too
 *   CURVE(ID, name, at, at_unit, values, unit, mark, what, source, used)
 *   SIZES(ID, name, values, unit, mark, what, source, used)
 *   CHOICE(ID, name, word, mark, what, source, used)
 *
 * ID becomes the constant FW_ID; FW_ID_LEAST and FW_ID_MOST are its range,
 * FW_ID_AT is what a curve goes by, and FW_ID_NAME, _MARK, _WHAT and _SOURCE
 * are for tables of more than one figure. <foldwright/figures.h> tells the
 * rest. */
#include <foldwright/figures.h>

#define WORDS(id, name, mark, what, source)                                    \
    static const enum fw_mark FW_##id##_MARK = FW_MARK_##mark;                 \
    static const char FW_##id##_NAME[] = name, FW_##id##_WHAT[] = what,        \
                      FW_##id##_SOURCE[] = source;
#define FIGURE(id, name, value, unit, least, most, mark, what, source, used)   \
    static const double FW_##id = value;                                       \
    static const double FW_##id##_LEAST = least, FW_##id##_MOST = most;        \
    WORDS(id, name, mark, what, source)
#define COUNT(id, name, value, unit, least, most, mark, what, source, used)    \
    enum { FW_##id = value, FW_##id##_LEAST = least, FW_##id##_MOST = most };  \
    WORDS(id, name, mark, what, source)
#define CURVE(id, name, at, at_unit, values, unit, mark, what, source, used)   \
    static const double FW_##id[] = values, FW_##id##_AT[] = at;               \
    WORDS(id, name, mark, what, source)
#define SIZES(id, name, values, unit, mark, what, source, used)                \
    static const double FW_##id[] = values;                                    \
    WORDS(id, name, mark, what, source)
#define CHOICE(id, name, word, mark, what, source, used)                       \
    static const char FW_##id[] = word;                                        \
    WORDS(id, name, mark, what, source)
#define LIST(...)                                                              \
    {                                                                          \
        __VA_ARGS__                                                            \
    }
