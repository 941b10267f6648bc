/* Pipe sizes: ASME B36.10M (2004 metric walls), 5S to 80S of ASME B36.19M.
 * All values: from memory, checked against the few that the project's facts give (DN50 60.3 x 3.91,
 * DN100 114.3 x 6.02, DN25 33.4 x 3.38). Sizes and schedules that are not certain are left out. */
#include "pipesize.h"

#include "quantity.h"

#include <math.h>
#include <stdbool.h>
#include <string.h>

/* Walls: "schedule=mm" parted by blanks. STD and XS stand in the list of each size too. */
static const still_pipe_size sizes[] = {
    {"1/8", 0.125, 6, 10.3, 1.73,
     "10=1.24 10S=1.24 30=1.45 40=1.73 STD=1.73 40S=1.73 80=2.41 XS=2.41 80S=2.41"},
    {"1/4", 0.25, 8, 13.7, 2.24,
     "10=1.65 10S=1.65 30=1.85 40=2.24 STD=2.24 40S=2.24 80=3.02 XS=3.02 80S=3.02"},
    {"3/8", 0.375, 10, 17.1, 2.31,
     "10=1.65 10S=1.65 30=1.85 40=2.31 STD=2.31 40S=2.31 80=3.20 XS=3.20 80S=3.20"},
    {"1/2", 0.5, 15, 21.3, 2.77,
     "5=1.65 5S=1.65 10=2.11 10S=2.11 30=2.41 40=2.77 STD=2.77 40S=2.77 80=3.73 XS=3.73 80S=3.73 "
     "160=4.78 XXS=7.47"},
    {"3/4", 0.75, 20, 26.7, 2.87,
     "5=1.65 5S=1.65 10=2.11 10S=2.11 30=2.41 40=2.87 STD=2.87 40S=2.87 80=3.91 XS=3.91 80S=3.91 "
     "160=5.56 XXS=7.82"},
    {"1", 1, 25, 33.4, 3.38,
     "5=1.65 5S=1.65 10=2.77 10S=2.77 30=2.90 40=3.38 STD=3.38 40S=3.38 80=4.55 XS=4.55 80S=4.55 "
     "160=6.35 XXS=9.09"},
    {"1-1/4", 1.25, 32, 42.2, 3.56,
     "5=1.65 5S=1.65 10=2.77 10S=2.77 30=2.97 40=3.56 STD=3.56 40S=3.56 80=4.85 XS=4.85 80S=4.85 "
     "160=6.35 XXS=9.70"},
    {"1-1/2", 1.5, 40, 48.3, 3.68,
     "5=1.65 5S=1.65 10=2.77 10S=2.77 30=3.18 40=3.68 STD=3.68 40S=3.68 80=5.08 XS=5.08 80S=5.08 "
     "160=7.14 XXS=10.15"},
    {"2", 2, 50, 60.3, 3.91,
     "5=1.65 5S=1.65 10=2.77 10S=2.77 30=3.18 40=3.91 STD=3.91 40S=3.91 80=5.54 XS=5.54 80S=5.54 "
     "160=8.74 XXS=11.07"},
    {"2-1/2", 2.5, 65, 73.0, 5.16,
     "5=2.11 5S=2.11 10=3.05 10S=3.05 30=4.78 40=5.16 STD=5.16 40S=5.16 80=7.01 XS=7.01 80S=7.01 "
     "160=9.53 XXS=14.02"},
    {"3", 3, 80, 88.9, 5.49,
     "5=2.11 5S=2.11 10=3.05 10S=3.05 30=4.78 40=5.49 STD=5.49 40S=5.49 80=7.62 XS=7.62 80S=7.62 "
     "160=11.13 XXS=15.24"},
    {"3-1/2", 3.5, 90, 101.6, 5.74,
     "5=2.11 5S=2.11 10=3.05 10S=3.05 30=4.78 40=5.74 STD=5.74 40S=5.74 80=8.08 XS=8.08 80S=8.08"},
    {"4", 4, 100, 114.3, 6.02,
     "5=2.11 5S=2.11 10=3.05 10S=3.05 30=4.78 40=6.02 STD=6.02 40S=6.02 80=8.56 XS=8.56 80S=8.56 "
     "120=11.13 160=13.49 XXS=17.12"},
    {"5", 5, 125, 141.3, 6.55,
     "5=2.77 5S=2.77 10=3.40 10S=3.40 40=6.55 STD=6.55 40S=6.55 80=9.53 XS=9.53 80S=9.53 120=12.70 "
     "160=15.88 XXS=19.05"},
    {"6", 6, 150, 168.3, 7.11,
     "5=2.77 5S=2.77 10=3.40 10S=3.40 40=7.11 STD=7.11 40S=7.11 80=10.97 XS=10.97 80S=10.97 "
     "120=14.27 160=18.26 XXS=21.95"},
    {"8", 8, 200, 219.1, 8.18,
     "5=2.77 5S=2.77 10=3.76 10S=3.76 20=6.35 30=7.04 40=8.18 STD=8.18 40S=8.18 60=10.31 80=12.70 "
     "XS=12.70 80S=12.70 100=15.09 120=18.26 140=20.62 160=23.01 XXS=22.23"},
    {"10", 10, 250, 273.0, 9.27,
     "5=3.40 5S=3.40 10=4.19 10S=4.19 20=6.35 30=7.80 40=9.27 STD=9.27 40S=9.27 60=12.70 XS=12.70 "
     "80S=12.70 80=15.09 100=18.26 120=21.44 140=25.40 XXS=25.40 160=28.58"},
    {"12", 12, 300, 323.8, 9.53,
     "5=3.96 5S=3.96 10=4.57 10S=4.57 20=6.35 30=8.38 STD=9.53 40S=9.53 40=10.31 XS=12.70 "
     "80S=12.70 60=14.27 80=17.48 100=21.44 120=25.40 XXS=25.40 140=28.58 160=33.32"},
    {"14", 14, 350, 355.6, 9.53,
     "5=3.96 10=6.35 20=7.92 30=9.53 STD=9.53 40=11.13 XS=12.70 60=15.09 80=19.05 100=23.83 "
     "120=27.79 140=31.75 160=35.71"},
    {"16", 16, 400, 406.4, 9.53,
     "5=4.19 10=6.35 20=7.92 30=9.53 STD=9.53 40=12.70 XS=12.70 60=16.66 80=21.44 100=26.19 "
     "120=30.96 140=36.53 160=40.49"},
    {"18", 18, 450, 457.0, 9.53,
     "5=4.19 10=6.35 20=7.92 STD=9.53 30=11.13 XS=12.70 40=14.27 60=19.05 80=23.83 100=29.36 "
     "120=34.93 140=39.67 160=45.24"},
    {"20", 20, 500, 508.0, 9.53,
     "5=4.78 10=6.35 20=9.53 STD=9.53 30=12.70 XS=12.70 40=15.09 60=20.62 80=26.19 100=32.54 "
     "120=38.10 140=44.45 160=50.01"},
    {"22", 22, 550, 559.0, 9.53,
     "5=4.78 10=6.35 20=9.53 STD=9.53 30=12.70 XS=12.70 60=22.23 80=28.58 100=34.93 120=41.28 "
     "140=47.63 160=53.98"},
    {"24", 24, 600, 610.0, 9.53,
     "5=5.54 10=6.35 20=9.53 STD=9.53 XS=12.70 30=14.27 40=17.48 60=24.61 80=30.96 100=38.89 "
     "120=46.02 140=52.37 160=59.54"},
};

const still_pipe_size *still_pipe_at(size_t i)
{
    return i < sizeof sizes / sizeof sizes[0] ? &sizes[i] : NULL;
}

static size_t blanks(const char *s, size_t len)
{
    size_t i = 0;
    while (i < len && s[i] == ' ') i++;
    return i;
}

static size_t whole(const char *s, size_t len, unsigned *out)
{
    size_t i = 0;
    *out = 0;
    while (i < len && i < 4 && s[i] >= '0' && s[i] <= '9')
        *out = *out * 10 + (unsigned)(s[i++] - '0');
    return i;
}

/* "2", "1-1/2", "1 1/2", "1/2", "1.5"; NAN when it is none of these. */
static double inches(const char *s, size_t len)
{
    unsigned a, b;
    if (memchr(s, '.', len) != NULL) {
        double v;
        return still_number_prefix(s, len, &v) == len ? v : (double)NAN;
    }
    size_t i = whole(s, len, &a);
    if (i == 0) return (double)NAN;
    if (i == len) return a;
    unsigned top = a;
    if (s[i] == '-' || s[i] == ' ') {
        i++;
        size_t n = whole(s + i, len - i, &top);
        if (n == 0) return (double)NAN;
        i += n;
    } else {
        a = 0;
    }
    if (i >= len || s[i] != '/') return (double)NAN;
    i++;
    size_t n = whole(s + i, len - i, &b);
    if (n == 0 || i + n != len || b == 0 || top >= b) return (double)NAN;
    return (double)a + (double)top / (double)b;
}

int still_pipe_nominal(const char *s, size_t len)
{
    size_t i = blanks(s, len);
    return (len - i >= 2 && memcmp(s + i, "DN", 2) == 0) ||
           (len - i >= 3 && memcmp(s + i, "NPS", 3) == 0);
}

const still_pipe_size *still_pipe_find(const char *s, size_t len)
{
    size_t i = blanks(s, len);
    while (len > i && s[len - 1] == ' ') len--;
    if (!still_pipe_nominal(s, len)) return NULL;
    bool dn = s[i] == 'D';
    i += dn ? 2 : 3;
    i += blanks(s + i, len - i);
    unsigned number = 0;
    double nps = (double)NAN;
    if (dn) {
        if (i == len || whole(s + i, len - i, &number) != len - i) return NULL;
    } else {
        nps = inches(s + i, len - i);
    }
    for (size_t k = 0; k < sizeof sizes / sizeof sizes[0]; k++) {
        if (dn ? sizes[k].dn == number
               : !(sizes[k].nps_in < nps || sizes[k].nps_in > nps) && !isnan(nps))
            return &sizes[k];
    }
    return NULL;
}

double still_pipe_wall_mm(const still_pipe_size *size, const char *schedule, size_t len)
{
    size_t skip = blanks(schedule, len);
    schedule += skip;
    len -= skip;
    while (len > 0 && schedule[len - 1] == ' ') len--;
    if (len == 0) return (double)NAN;
    const char *p = size->walls;
    while (*p != '\0') {
        const char *eq = strchr(p, '=');
        const char *end = strchr(eq, ' ');
        size_t rest = end != NULL ? (size_t)(end - eq) - 1 : strlen(eq + 1);
        if ((size_t)(eq - p) == len && memcmp(p, schedule, len) == 0) {
            double v;
            return still_number_prefix(eq + 1, rest, &v) == rest ? v : (double)NAN;
        }
        if (end == NULL) break;
        p = end + 1;
    }
    return (double)NAN;
}
