/** @file pipesize.h  Nominal pipe sizes: outside diameters and walls by schedule.
 *
 *  ASME B36.10M, welded and seamless wrought steel pipe, NPS 1/8 to 24, in the metric edition's
 *  millimetres; 5S, 10S, 40S, 80S of ASME B36.19M up to NPS 12. Outside diameters are the same as
 *  those of EN 10220 series 1 within 0.1 mm, but for DN65 (73.0; EN 76.1) and DN125 (141.3; EN
 *  139.7), and DN450, DN550, DN600, which EN rounds as here. */
#ifndef STILL_PIPESIZE_H
#define STILL_PIPESIZE_H

#include <stddef.h>

/** A nominal size. */
typedef struct still_pipe_size {
    const char *nps; /**< as in the standard, such as "1-1/2" */
    double nps_in;   /**< the same as a number, such as 1.5 */
    unsigned dn;
    double od_mm;      /**< outside diameter */
    double std_mm;     /**< wall STD */
    const char *walls; /**< schedules and walls, as pipesize.c reads them */
} still_pipe_size;

/** Find a size: "DN50", "DN 50", "NPS 2", "NPS 1-1/2", "NPS 1 1/2", "NPS 1.5".
 *  @return the size, or NULL when it is not in the table or not written so. Static. */
const still_pipe_size *still_pipe_find(const char *s, size_t len);
/** Does a text name a nominal size (begins with DN or NPS), be it in the table or not? */
int still_pipe_nominal(const char *s, size_t len);
/** Wall of a schedule ("40", "STD", "XS", "XXS", "10S", …) in mm, or NAN where the table has none.
 */
double still_pipe_wall_mm(const still_pipe_size *size, const char *schedule, size_t len);
/** The i-th size from the smallest, or NULL past the end. */
const still_pipe_size *still_pipe_at(size_t i);

#endif
