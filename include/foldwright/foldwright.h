/* All of the library, for those who do not care which part. */
#ifndef FW_FOLDWRIGHT_H
#define FW_FOLDWRIGHT_H

#include <foldwright/circuit.h>
#include <foldwright/date.h>
#include <foldwright/error.h>
#include <foldwright/farm.h>
#include <foldwright/field.h>
#include <foldwright/figures.h>
#include <foldwright/kit.h>
#include <foldwright/layout.h>
#include <foldwright/make.h>
#include <foldwright/plan.h>
#include <foldwright/progress.h>
#include <foldwright/quantity.h>
#include <foldwright/report.h>
#include <foldwright/request.h>
#include <foldwright/store.h>
#include <foldwright/told.h>

#endif
