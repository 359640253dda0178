/* Sources that more than one row names. */
#ifndef FW_FIGURES_SOURCES_H
#define FW_FIGURES_SOURCES_H

#define COMMON "common practice, no source"
/* How a search weighs what it finds. */
#define OWN "our own choice, no source"
#define YARD_AND_POUND "international yard and pound agreement, 1959: exact"
#define STICK "Cornell and NRCS pasture stick, University of Maine, appendix D"
#define WEB_LOG_2006 "New Liberty Farm (web log), March 2006"
#define FENCE_COSTS                                                            \
    "Iowa State University, Estimated costs for livestock fencing"

#endif
