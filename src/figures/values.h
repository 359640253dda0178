/* Reads a page of rows for its values, and is undone by figures/end.h:
 *
 *   FIGURE(ID, name, value, unit, least, most, mark, what, source, used)
 *   COUNT(...)  the same, whole, good for an enum or the size of an array too
 *   CURVE(ID, name, at, at_unit, values, unit, mark, what, source, used)
 *   CHOICE(ID, name, word, mark, what, source, used)
 *
 * ID becomes the constant FW_ID, FW_ID_LEAST and FW_ID_MOST are its range, and
 * FW_ID_AT is what a curve goes by. <foldwright/figures.h> tells the rest. */
#define FIGURE(id, name, value, unit, least, most, ...)                        \
    static const double FW_##id = value;                                       \
    static const double FW_##id##_LEAST = least, FW_##id##_MOST = most;
#define COUNT(id, name, value, unit, least, most, ...)                         \
    enum { FW_##id = value, FW_##id##_LEAST = least, FW_##id##_MOST = most };
#define CURVE(id, name, at, at_unit, values, ...)                              \
    static const double FW_##id[] = values, FW_##id##_AT[] = at;
#define CHOICE(id, name, word, ...) static const char FW_##id[] = word;
#define LIST(...)                                                              \
    {                                                                          \
        __VA_ARGS__                                                            \
    }
