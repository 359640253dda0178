/* Undoes figures/values.h, or whatever else read a page of rows. */
#undef FIGURE
#undef COUNT
#undef CURVE
#undef SIZES
#undef CHOICE
#undef LIST
#undef WORDS
