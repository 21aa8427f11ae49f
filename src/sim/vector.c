/* Fixed-size vector for SUNDIALS: see the header. */
#include "vector.h"

#include <math.h>
#include <stdlib.h>

typedef struct hp_vector {
    double y[HP_STATE_COUNT];
} hp_vector;

double *hp_vector_data(N_Vector vector)
{
    return ((hp_vector *)vector->content)->y;
}

static N_Vector_ID vector_id(N_Vector v)
{
    (void)v;
    return SUNDIALS_NVEC_CUSTOM;
}

static void vector_destroy(N_Vector v)
{
    if (!v)
        return;
    free(v->content);
    v->content = NULL;
    N_VFreeEmpty(v);
}

static N_Vector vector_clone(N_Vector w)
{
    N_Vector v = N_VNewEmpty(w->sunctx);
    if (!v)
        return NULL;
    v->content = calloc(1, sizeof(hp_vector));
    if (!v->content || N_VCopyOps(w, v) != 0) {
        vector_destroy(v);
        return NULL;
    }
    return v;
}

static sunindextype vector_length(N_Vector v)
{
    (void)v;
    return HP_STATE_COUNT;
}

/* Every operation below is the loop its name says, over restrict-free arrays since ARKODE may pass
 * the same vector twice. */
#define FOR_EACH(k) for (int k = 0; k < HP_STATE_COUNT; k++)

static void vector_linear_sum(realtype a, N_Vector x, realtype b, N_Vector y, N_Vector z)
{
    const double *xd = hp_vector_data(x), *yd = hp_vector_data(y);
    double *zd = hp_vector_data(z);
    FOR_EACH(k)
    zd[k] = a * xd[k] + b * yd[k];
}

static void vector_const(realtype c, N_Vector z)
{
    double *zd = hp_vector_data(z);
    FOR_EACH(k)
    zd[k] = c;
}

static void vector_prod(N_Vector x, N_Vector y, N_Vector z)
{
    const double *xd = hp_vector_data(x), *yd = hp_vector_data(y);
    double *zd = hp_vector_data(z);
    FOR_EACH(k)
    zd[k] = xd[k] * yd[k];
}

static void vector_div(N_Vector x, N_Vector y, N_Vector z)
{
    const double *xd = hp_vector_data(x), *yd = hp_vector_data(y);
    double *zd = hp_vector_data(z);
    FOR_EACH(k)
    zd[k] = xd[k] / yd[k];
}

static void vector_scale(realtype c, N_Vector x, N_Vector z)
{
    const double *xd = hp_vector_data(x);
    double *zd = hp_vector_data(z);
    FOR_EACH(k)
    zd[k] = c * xd[k];
}

static void vector_abs(N_Vector x, N_Vector z)
{
    const double *xd = hp_vector_data(x);
    double *zd = hp_vector_data(z);
    FOR_EACH(k)
    zd[k] = fabs(xd[k]);
}

static void vector_inv(N_Vector x, N_Vector z)
{
    const double *xd = hp_vector_data(x);
    double *zd = hp_vector_data(z);
    FOR_EACH(k)
    zd[k] = 1.0 / xd[k];
}

static void vector_add_const(N_Vector x, realtype b, N_Vector z)
{
    const double *xd = hp_vector_data(x);
    double *zd = hp_vector_data(z);
    FOR_EACH(k)
    zd[k] = xd[k] + b;
}

static realtype vector_max_norm(N_Vector x)
{
    const double *xd = hp_vector_data(x);
    double largest = 0.0;
    for (int k = 0; k < HP_STATE_DYNAMIC; k++)
        largest = fmax(largest, fabs(xd[k]));
    return largest;
}

static realtype vector_wrms_norm(N_Vector x, N_Vector w)
{
    const double *xd = hp_vector_data(x), *wd = hp_vector_data(w);
    double sum = 0.0;
    for (int k = 0; k < HP_STATE_DYNAMIC; k++)
        sum += xd[k] * wd[k] * xd[k] * wd[k];
    return sqrt(sum / HP_STATE_DYNAMIC);
}

static realtype vector_min(N_Vector x)
{
    const double *xd = hp_vector_data(x);
    double least = xd[0];
    FOR_EACH(k)
    least = fmin(least, xd[k]);
    return least;
}

/* z = sum c_k x_k; x_0 may be z. */
static int vector_linear_combination(int count, realtype *c, N_Vector *x, N_Vector z)
{
    double sum[HP_STATE_COUNT];
    const double *xd = hp_vector_data(x[0]);
    FOR_EACH(k)
    sum[k] = c[0] * xd[k];
    for (int n = 1; n < count; n++) {
        xd = hp_vector_data(x[n]);
        FOR_EACH(k)
        sum[k] += c[n] * xd[k];
    }
    double *zd = hp_vector_data(z);
    FOR_EACH(k)
    zd[k] = sum[k];
    return 0;
}

N_Vector hp_vector_create(SUNContext context)
{
    N_Vector v = N_VNewEmpty(context);
    if (!v)
        return NULL;
    v->ops->nvgetvectorid = vector_id;
    v->ops->nvclone = vector_clone;
    v->ops->nvdestroy = vector_destroy;
    v->ops->nvgetlength = vector_length;
    v->ops->nvlinearsum = vector_linear_sum;
    v->ops->nvconst = vector_const;
    v->ops->nvprod = vector_prod;
    v->ops->nvdiv = vector_div;
    v->ops->nvscale = vector_scale;
    v->ops->nvabs = vector_abs;
    v->ops->nvinv = vector_inv;
    v->ops->nvaddconst = vector_add_const;
    v->ops->nvmaxnorm = vector_max_norm;
    v->ops->nvwrmsnorm = vector_wrms_norm;
    v->ops->nvmin = vector_min;
    v->ops->nvlinearcombination = vector_linear_combination;
    v->content = calloc(1, sizeof(hp_vector));
    if (!v->content) {
        vector_destroy(v);
        return NULL;
    }
    return v;
}
