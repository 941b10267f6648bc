/* Prints what the library holds and computes of a fluid, for the checks in Python.
 * usage: fluid_dump table FLUID            coefficients, one row a line
 *        fluid_dump state FLUID            reads lines "T_K density", prints properties
 *        fluid_dump saturation FLUID       reads lines "T_K", prints p, liquid, vapour
 *        fluid_dump isochore FLUID         reads lines "T0_K p0_bara T_K", prints p (rigid wall) */
#include "closedin.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static void row(const char *name, const double *value, size_t n)
{
    printf("%s", name);
    for (size_t i = 0; i < n; i++) printf(" %.17g", value[i]);
    printf("\n");
}

static void pairs(const char *name, const still_eos_pair *p, size_t n)
{
    for (size_t i = 0; i < n; i++) row(name, (const double[]){p[i].n, p[i].t}, 2);
}

static void ancillary(const char *name, const still_eos_ancillary *a)
{
    static const char *const forms[] = {"one_plus", "exp", "exp_TrT"};
    printf("%s.form %s\n", name, forms[a->form]);
    row(name, (const double[]){a->T_r_K, a->y_r}, 2);
    pairs(name, a->terms, a->n_terms);
}

static void table(const still_eos *e)
{
    row("constants",
        (const double[]){e->molar_mass_kg_per_mol, e->R_J_per_kgK, e->T_r_K, e->rho_r_kg_m3,
                         e->T_c_K, e->p_c_Pa, e->rho_c_kg_m3, e->T_triple_K, e->p_triple_Pa,
                         e->T_min_K, e->T_max_K, e->p_max_Pa, e->rho_max_kg_m3, e->a1, e->a2,
                         e->log_tau},
        16);
    pairs("ideal_power", e->ideal_power, e->n_ideal_power);
    pairs("planck_einstein", e->planck_einstein, e->n_planck_einstein);
    for (size_t i = 0; i < e->n_power; i++)
        row("power", (const double[]){e->power[i].n, e->power[i].t, e->power[i].d}, 3);
    for (size_t i = 0; i < e->n_exponential; i++) {
        const still_eos_exponential *c = &e->exponential[i];
        row("exponential", (const double[]){c->n, c->t, c->d, c->c}, 4);
    }
    for (size_t i = 0; i < e->n_gaussian; i++) {
        const still_eos_gaussian *c = &e->gaussian[i];
        row("gaussian", (const double[]){c->n, c->t, c->d, c->eta, c->epsilon, c->beta, c->gamma},
            7);
    }
    for (size_t i = 0; i < e->n_associating; i++) {
        const still_eos_associating *c = &e->associating[i];
        row("associating",
            (const double[]){c->n, c->t, c->d, c->eta, c->epsilon, c->beta, c->gamma, c->b}, 8);
    }
    for (size_t i = 0; i < e->n_nonanalytic; i++) {
        const still_eos_nonanalytic *c = &e->nonanalytic[i];
        row("nonanalytic", (const double[]){c->n, c->a, c->b, c->beta, c->A, c->B, c->C, c->D}, 8);
    }
    ancillary("p_sat", &e->p_sat);
    ancillary("rho_liq", &e->rho_liquid);
    ancillary("rho_vap", &e->rho_vapour);
}

static void refuse(still_eos_status status)
{
    printf("refused %s\n", still_eos_status_text(status));
}

static void state(const still_eos *e, double T, double rho)
{
    still_eos_state s;
    still_eos_status status = still_eos_state_Trho(&s, e, T, rho);
    if (status) {
        refuse(status);
        return;
    }
    row("state",
        (const double[]){s.pressure_bara, s.cv_J_per_kgK, s.cp_J_per_kgK, s.sound_m_per_s,
                         s.expansivity_per_K, s.compressibility_per_bar, s.h_J_per_kg,
                         s.s_J_per_kgK},
        8);
}

static void saturation(const still_eos *e, double T)
{
    still_eos_saturation s;
    still_eos_status status = still_eos_saturation_T(&s, e, T);
    if (status)
        refuse(status);
    else
        row("saturation", (const double[]){s.pressure_bara, s.liquid_kg_m3, s.vapour_kg_m3}, 3);
}

static void isochore(const still_eos *e, double T0, double p0, double T)
{
    still_closedin from;
    still_closedin_given given = {.eos = e, .T_K = T0, .pressure_bara = p0};
    double p;
    still_eos_status status = still_closedin_start(&from, &given);
    if (!status) status = still_closedin_pressure(&p, NULL, &from, &STILL_WALL_RIGID, T);
    if (status)
        refuse(status);
    else
        row("isochore", &p, 1);
}

int main(int argc, char **argv)
{
    if (argc != 3) return 2;
    const still_eos *e = still_eos_of(still_substance_of(argv[2]));
    double a, b, c;
    if (!e) return 2;
    if (strcmp(argv[1], "table") == 0)
        table(e);
    else if (strcmp(argv[1], "state") == 0)
        while (scanf("%lf %lf", &a, &b) == 2) state(e, a, b);
    else if (strcmp(argv[1], "saturation") == 0)
        while (scanf("%lf", &a) == 1) saturation(e, a);
    else if (strcmp(argv[1], "isochore") == 0)
        while (scanf("%lf %lf %lf", &a, &b, &c) == 3) isochore(e, a, b, c);
    else
        return 2;
    return 0;
}
