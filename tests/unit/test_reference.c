/* Every row of the project's reference-values.csv, as a test of its own (L3, L4): published states
 * and values computed with a verified evaluator; the row names its source. The file lies beside the
 * sources; where it is not there, nothing is tested and the program says so.
 *
 * Tolerance: the row's own. A published value is compared as the source prints it. */
#include "ammonia_1993.h"
#include "closedin.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#define FILE_NAME STILL_SOURCE_DIR "/../shared/fluids/reference-values.csv"
enum { MAX_ROWS = 2000, MIN_ROWS = 1013, FIELDS = 10 };

typedef struct row {
    char text[300], name[160];
    const still_eos *eos;
    const char *quantity, *unit, *source;
    double T, p, rho, value, tolerance; /* NAN = not given */
} row;
static row rows[MAX_ROWS];
static struct CMUnitTest tests[MAX_ROWS];

static const still_eos *eos_named(const char *name)
{
    if (strcmp(name, ammonia_1993.name) == 0) return &ammonia_1993;
    return still_eos_of(still_substance_of(name));
}

static double number(const char *text)
{
    return *text ? strtod(text, NULL) : (double)NAN;
}

static bool is(const char *text, const char *word)
{
    return strcmp(text, word) == 0;
}

static double property(const still_eos_state *s, const char *name, size_t length)
{
    static const struct {
        const char *name;
        size_t at;
    } known[] = {
        {"p", offsetof(still_eos_state, pressure_bara)},
        {"rho", offsetof(still_eos_state, density_kg_m3)},
        {"cv", offsetof(still_eos_state, cv_J_per_kgK)},
        {"cp", offsetof(still_eos_state, cp_J_per_kgK)},
        {"w", offsetof(still_eos_state, sound_m_per_s)},
        {"h", offsetof(still_eos_state, h_J_per_kg)},
        {"s", offsetof(still_eos_state, s_J_per_kgK)},
        {"beta", offsetof(still_eos_state, expansivity_per_K)},
        {"kappa_T", offsetof(still_eos_state, compressibility_per_bar)},
        {"dpdT_v", offsetof(still_eos_state, dp_dT_bar_per_K)},
    };
    for (size_t i = 0; i < sizeof known / sizeof known[0]; i++)
        if (strlen(known[i].name) == length && strncmp(known[i].name, name, length) == 0) {
            double value;
            memcpy(&value, (const char *)s + known[i].at, sizeof value);
            return value;
        }
    print_error("no such quantity: %s\n", name);
    fail();
    return (double)NAN;
}

/* The number after `key` in the quantity. */
static double after(const char *quantity, const char *key)
{
    const char *at = strstr(quantity, key);
    assert_non_null(at);
    return strtod(at + strlen(key), NULL);
}

static double saturated(const row *r)
{
    still_eos_saturation s;
    if (!isnan(r->p)) {
        assert_int_equal(still_eos_saturation_p(&s, r->eos, r->p), STILL_EOS_OK);
    } else if (still_eos_saturation_T(&s, r->eos, r->T)) {
        /* One published state of water lies within 0.1 K of the critical temperature. */
        print_message("outside the range, formula only: %s\n", r->name);
        assert_true(fabs(r->T - r->eos->T_c_K) < STILL_EOS_CRITICAL_K);
        assert_int_equal(still_eos_balance(&s, r->eos, r->T), STILL_EOS_OK);
    }
    if (is(r->quantity, "psat")) return s.pressure_bara;
    if (is(r->quantity, "Tsat")) return s.T_K;
    still_eos_state at;
    const char *side = strrchr(r->quantity, '_');
    still_eos_formula(&at, r->eos, s.T_K, is(side, "_liq") ? s.liquid_kg_m3 : s.vapour_kg_m3);
    return property(&at, r->quantity, (size_t)(side - r->quantity));
}

static double warmed(const row *r)
{
    still_closedin from;
    still_closedin_given given = {.eos = r->eos, .T_K = r->T, .pressure_bara = r->p};
    still_wall wall = STILL_WALL_RIGID;
    double p = 0, T = r->T + after(r->quantity, ";dT_K=");
    assert_int_equal(still_closedin_start(&from, &given), STILL_EOS_OK);
    assert_int_equal(from.flags, 0);
    if (strstr(r->quantity, "pipe")) {
        double od = after(r->quantity, "OD_mm="), t = after(r->quantity, "wall_mm=");
        wall = still_wall_of_pipe(od, t, NULL);
        /* Thin wall: D_m / (t E) (5/4 - nu). */
        if (strstr(r->quantity, "thin"))
            wall.compliance_per_bar = 1e5 * (od - t) / (t * 2.0e11) * (1.25 - 0.3);
    }
    assert_int_equal(still_closedin_pressure(&p, NULL, &from, &wall, T), STILL_EOS_OK);
    return p;
}

static double filled(const row *r)
{
    still_closedin from;
    still_closedin_end end;
    still_closedin_given given = {.eos = r->eos,
                                  .kind = STILL_CLOSEDIN_FILL,
                                  .T_K = r->T,
                                  .fill = after(r->quantity, ";fill=")};
    assert_int_equal(still_closedin_start(&from, &given), STILL_EOS_OK);
    assert_int_equal(still_closedin_fills(&end, &from, &STILL_WALL_RIGID, r->eos->T_c_K),
                     STILL_EOS_OK);
    assert_int_equal(end.fate, STILL_CLOSEDIN_FILLS);
    return r->quantity[0] == 'T' ? end.T_K : end.pressure_bara;
}

static double single(const row *r)
{
    still_eos_state s;
    double rho = r->rho;
    /* A few published rows lie a little outside the range that the program allows: the formula. */
    if (isnan(rho) && still_eos_density(&rho, r->eos, r->T, r->p)) {
        assert_true(r->T > r->eos->T_max_K);
        print_message("outside the range, formula only: %s\n", r->name);
        double low = r->p * 1e5 / (r->eos->R_J_per_kgK * r->T) * 1e-3;
        assert_int_equal(
            still_eos_root(&rho, r->eos, r->T, r->p, low, r->eos->rho_max_kg_m3 * 1.25),
            STILL_EOS_OK);
    }
    still_eos_formula(&s, r->eos, r->T, rho);
    return property(&s, r->quantity, strlen(r->quantity));
}

static void one_row(void **given)
{
    const row *r = *given;
    double got;
    if (strncmp(r->quantity, "p1_", 3) == 0)
        got = warmed(r);
    else if (strstr(r->quantity, "_full;"))
        got = filled(r);
    else if (strstr(r->quantity, "sat") || strstr(r->quantity, "_liq") ||
             strstr(r->quantity, "_vap"))
        got = saturated(r);
    else
        got = single(r);
    if (is(r->unit, "J/mol") || is(r->unit, "J/(mol K)")) got *= r->eos->molar_mass_kg_per_mol;
    if (is(r->unit, "1/Pa")) got /= 1e5;
    if (!(fabs(got - r->value) <= r->tolerance * fabs(r->value))) {
        print_error("%s: got %.12g, want %.12g, off by %.3g, allowed %.3g; %s\n", r->name, got,
                    r->value, fabs(got / r->value - 1), r->tolerance, r->source);
        fail();
    }
}

static bool take(row *r, size_t line)
{
    char *field[FIELDS];
    size_t n = 0;
    char *at = r->text;
    r->text[strcspn(r->text, "\r\n")] = 0;
    while (n < FIELDS) {
        field[n++] = at;
        at = strchr(at, ',');
        if (!at) break;
        *at++ = 0;
    }
    if (n != FIELDS || at) return false;
    r->eos = eos_named(field[0]);
    r->quantity = field[1];
    r->T = number(field[2]);
    r->p = number(field[3]);
    r->rho = number(field[4]);
    r->value = number(field[5]);
    r->unit = field[6];
    r->tolerance = number(field[7]);
    r->source = field[8];
    snprintf(r->name, sizeof r->name, "L4_row_%zu_%s_%s", line, field[0], field[1]);
    return r->eos && isfinite(r->value) && r->tolerance > 0;
}

int main(void)
{
    FILE *file = fopen(FILE_NAME, "r");
    size_t n = 0;
    char head[300];
    if (!file) {
        printf("not there, nothing tested: %s\n", FILE_NAME);
        return 77;
    }
    if (!fgets(head, sizeof head, file)) return 1;
    while (n < MAX_ROWS && fgets(rows[n].text, sizeof rows[n].text, file)) {
        if (!take(&rows[n], n + 2)) {
            printf("line %zu is not a row\n", n + 2);
            return 1;
        }
        tests[n] = (struct CMUnitTest){rows[n].name, one_row, NULL, NULL, &rows[n]};
        n++;
    }
    fclose(file);
    if (n < MIN_ROWS) {
        printf("only %zu rows\n", n);
        return 1;
    }
    return _cmocka_run_group_tests("reference-values.csv", tests, n, NULL, NULL);
}
