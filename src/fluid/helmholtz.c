/* Properties of a fluid from its reduced Helmholtz energy.
 * Problem: pressure, its slopes and the caloric properties for given temperature and density.
 * Method: every residual term but the non-analytic ones is n exp(L(tau, delta)) with
 * L = u(delta) + v(tau); so with U = delta u', U2 = delta U' (and V, V2 in tau) its derivatives are
 * delta f_d = U f, delta^2 f_dd = (U^2 - U + U2) f, delta tau f_dt = U V f: one exponential a term.
 * The non-analytic terms are differentiated as IAPWS R6-95(2018), Table 5, writes them down.
 * Why it is right: tests compare every published check value, and all derivatives with differences.
 * Source: the papers named above each table of coefficients (eos_*.c). */
#include "helmholtz.h"

#include <math.h>

#define PA_PER_BAR 1e5

const char *still_eos_status_text(still_eos_status status)
{
    switch (status) {
    case STILL_EOS_OK: return "ok";
    case STILL_EOS_BAD_INPUT: return "no equation of state for what is given";
    case STILL_EOS_BELOW_TRIPLE: return "below the lowest temperature of the equation of state";
    case STILL_EOS_ABOVE_LIMIT: return "beyond the range of the equation of state";
    case STILL_EOS_NEAR_CRITICAL: return "too near the critical point";
    case STILL_EOS_ABOVE_CRITICAL: return "no saturated state, above the critical point";
    case STILL_EOS_NOT_LIQUID: return "not liquid, the pressure is below saturation";
    case STILL_EOS_NOT_STABLE: return "would part into liquid and vapour";
    case STILL_EOS_COOLING: return "colder than at the start";
    case STILL_EOS_NO_CONVERGENCE: return "no solution found";
    }
    return "unknown";
}

const still_eos *still_eos_of(still_substance substance)
{
    switch (substance) {
    case STILL_SUBSTANCE_AMMONIA: return &still_eos_ammonia;
    case STILL_SUBSTANCE_CARBON_DIOXIDE: return &still_eos_carbon_dioxide;
    case STILL_SUBSTANCE_PROPANE: return &still_eos_propane;
    case STILL_SUBSTANCE_R134A: return &still_eos_r134a;
    case STILL_SUBSTANCE_WATER: return &still_eos_water;
    case STILL_SUBSTANCE_OTHER: break;
    }
    return NULL;
}

/* Add a term n exp(L): U, U2, V, V2 as above. */
static void add(still_helmholtz *sum, double f, double U, double U2, double V, double V2)
{
    sum->a += f;
    sum->d += f * U;
    sum->dd += f * (U * U - U + U2);
    sum->t += f * V;
    sum->tt += f * (V * V - V + V2);
    sum->dt += f * U * V;
}

static double whole_power(double x, int n)
{
    double p = x;
    for (int i = 1; i < n; i++) p *= x;
    return p;
}

static void add_gaussian(still_helmholtz *sum, const still_eos_gaussian *g, double tau,
                         double delta, double ln_tau, double ln_delta)
{
    double x = delta - g->epsilon, y = tau - g->gamma;
    double L = g->t * ln_tau + g->d * ln_delta - g->eta * x * x - g->beta * y * y;
    add(sum, g->n * exp(L), g->d - 2 * g->eta * delta * x,
        -2 * g->eta * delta * (2 * delta - g->epsilon), g->t - 2 * g->beta * tau * y,
        -2 * g->beta * tau * (2 * tau - g->gamma));
}

static void add_associating(still_helmholtz *sum, const still_eos_associating *g, double tau,
                            double delta, double ln_tau, double ln_delta)
{
    double x = delta - g->epsilon, y = tau - g->gamma;
    double k = 1 / (g->beta * y * y + g->b);
    double k1 = -2 * g->beta * y * k * k;
    double k2 = -2 * g->beta * k * k + 8 * g->beta * g->beta * y * y * k * k * k;
    double L = g->t * ln_tau + g->d * ln_delta - g->eta * x * x + k;
    add(sum, g->n * exp(L), g->d - 2 * g->eta * delta * x,
        -2 * g->eta * delta * (2 * delta - g->epsilon), g->t + tau * k1, tau * k1 + tau * tau * k2);
}

/* Names as in IAPWS R6-95(2018), Table 5: D_ = Delta, Db_ = Delta^b, psi. Singular derivatives at
 * delta = 1: powers of (delta - 1)^2 with a negative exponent. */
static void add_nonanalytic(still_helmholtz *sum, const still_eos_nonanalytic *c, double tau,
                            double delta)
{
    if (fabs(delta - 1) < 1e-9) delta = 1 + 1e-9;
    double x = delta - 1, q = x * x, y = tau - 1;
    double fade = -c->C * q - c->D * y * y;
    if (fade < -740) return; /* psi is 0 in doubles */
    double psi = exp(fade), r = 1 / (2 * c->beta);
    double q_r = pow(q, r), q_a = pow(q, c->a);
    double theta = -y + c->A * q_r;
    double D = theta * theta + c->B * q_a;
    double D_over_x = c->A * theta * (2 / c->beta) * q_r / q + 2 * c->B * c->a * q_a / q;
    double D_d = x * D_over_x;
    double D_dd = D_over_x + 4 * c->B * c->a * (c->a - 1) * q_a / q +
                  2 * c->A * c->A / (c->beta * c->beta) * q_r * q_r / q +
                  c->A * theta * (4 / c->beta) * (r - 1) * q_r / q;
    double Db = pow(D, c->b), b1 = c->b * Db / D, b2 = (c->b - 1) * b1 / D;
    double Db_d = b1 * D_d, Db_dd = b1 * D_dd + b2 * D_d * D_d;
    double Db_t = -2 * theta * b1, Db_tt = 2 * b1 + 4 * theta * theta * b2;
    double Db_dt = -c->A * (2 / c->beta) * b1 * x * q_r / q - 2 * theta * b2 * D_d;
    double psi_d = -2 * c->C * x * psi, psi_dd = (2 * c->C * q - 1) * 2 * c->C * psi;
    double psi_t = -2 * c->D * y * psi, psi_tt = (2 * c->D * y * y - 1) * 2 * c->D * psi;
    double psi_dt = 4 * c->C * c->D * x * y * psi, n = c->n;
    sum->a += n * Db * delta * psi;
    sum->d += n * delta * (Db * (psi + delta * psi_d) + Db_d * delta * psi);
    sum->dd += n * delta * delta *
               (Db * (2 * psi_d + delta * psi_dd) + 2 * Db_d * (psi + delta * psi_d) +
                Db_dd * delta * psi);
    sum->t += n * delta * tau * (Db_t * psi + Db * psi_t);
    sum->tt += n * delta * tau * tau * (Db_tt * psi + 2 * Db_t * psi_t + Db * psi_tt);
    sum->dt += n * delta * tau *
               (Db * (psi_t + delta * psi_dt) + delta * Db_d * psi_t +
                Db_t * (psi + delta * psi_d) + Db_dt * delta * psi);
}

void still_helmholtz_residual(const still_eos *eos, double tau, double delta, still_helmholtz *out)
{
    still_helmholtz sum = {0, 0, 0, 0, 0, 0};
    double ln_tau = log(tau), ln_delta = log(delta);
    for (size_t i = 0; i < eos->n_power; i++) {
        const still_eos_power *c = &eos->power[i];
        add(&sum, c->n * exp(c->t * ln_tau + c->d * ln_delta), c->d, 0, c->t, 0);
    }
    for (size_t i = 0; i < eos->n_exponential; i++) {
        const still_eos_exponential *c = &eos->exponential[i];
        double e = whole_power(delta, c->c), k = c->c;
        add(&sum, c->n * exp(c->t * ln_tau + c->d * ln_delta - e), c->d - k * e, -k * k * e, c->t,
            0);
    }
    for (size_t i = 0; i < eos->n_gaussian; i++)
        add_gaussian(&sum, &eos->gaussian[i], tau, delta, ln_tau, ln_delta);
    for (size_t i = 0; i < eos->n_associating; i++)
        add_associating(&sum, &eos->associating[i], tau, delta, ln_tau, ln_delta);
    for (size_t i = 0; i < eos->n_nonanalytic; i++)
        add_nonanalytic(&sum, &eos->nonanalytic[i], tau, delta);
    *out = sum;
}

void still_helmholtz_ideal(const still_eos *eos, double tau, double delta, still_helmholtz *out)
{
    still_helmholtz sum = {.a = log(delta) + eos->a1 + eos->a2 * tau + eos->log_tau * log(tau),
                           .d = 1,
                           .dd = -1,
                           .t = eos->a2 * tau + eos->log_tau,
                           .tt = -eos->log_tau,
                           .dt = 0};
    for (size_t i = 0; i < eos->n_ideal_power; i++) {
        double t = eos->ideal_power[i].t, f = eos->ideal_power[i].n * pow(tau, t);
        sum.a += f;
        sum.t += f * t;
        sum.tt += f * t * (t - 1);
    }
    for (size_t i = 0; i < eos->n_planck_einstein; i++) {
        double n = eos->planck_einstein[i].n, x = eos->planck_einstein[i].t * tau;
        double e = exp(-x), rest = -expm1(-x);
        sum.a += n * log(rest);
        sum.t += n * x * e / rest;
        sum.tt -= n * x * x * e / (rest * rest);
    }
    *out = sum;
}

double still_eos_pressure_bara(const still_eos *eos, double T, double rho, double *dp_drho)
{
    still_helmholtz r;
    double RT = eos->R_J_per_kgK * T;
    still_helmholtz_residual(eos, eos->T_r_K / T, rho / eos->rho_r_kg_m3, &r);
    if (dp_drho) *dp_drho = RT * (1 + 2 * r.d + r.dd);
    return rho * RT * (1 + r.d) / PA_PER_BAR;
}

void still_eos_formula(still_eos_state *out, const still_eos *eos, double T, double rho)
{
    still_helmholtz r, o;
    double R = eos->R_J_per_kgK, tau = eos->T_r_K / T, delta = rho / eos->rho_r_kg_m3;
    still_helmholtz_residual(eos, tau, delta, &r);
    still_helmholtz_ideal(eos, tau, delta, &o);
    double p_T = rho * R * (1 + r.d - r.dt), p_rho = R * T * (1 + 2 * r.d + r.dd);
    double cv = -R * (o.tt + r.tt), cp = cv + T * p_T * p_T / (rho * rho * p_rho);
    *out = (still_eos_state){
        .T_K = T,
        .density_kg_m3 = rho,
        .pressure_bara = rho * R * T * (1 + r.d) / PA_PER_BAR,
        .dp_drho_m2_per_s2 = p_rho,
        .dp_dT_bar_per_K = p_T / PA_PER_BAR,
        .expansivity_per_K = p_T / (rho * p_rho),
        .compressibility_per_bar = PA_PER_BAR / (rho * p_rho),
        .cv_J_per_kgK = cv,
        .cp_J_per_kgK = cp,
        .sound_m_per_s = sqrt(p_rho > 0 ? p_rho * cp / cv : 0),
        .h_J_per_kg = R * T * (1 + o.t + r.t + r.d),
        .s_J_per_kgK = R * (o.t + r.t - o.a - r.a),
    };
}
