"""The normal distribution function of an array, by rational approximations of the error function.

W. J. Cody, "Rational Chebyshev approximations for the error function", Mathematics of Computation 23 (1969); the
coefficients are those of the Cephes library (S. L. Moshier, 1989), which scipy's own `ndtr` also uses. Here because
scipy's special functions take a quarter of a second to import, and the prices of a first answer need this one alone.
"""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt

FloatArray = npt.NDArray[np.float64]

_ERF_OVER = (
    9.60497373987051638749e0,
    9.00260197203842689217e1,
    2.23200534594684319226e3,
    7.00332514112805075473e3,
    5.55923013010394962768e4,
)
_ERF_UNDER = (
    1.0,
    3.35617141647503099647e1,
    5.21357949780152679795e2,
    4.59432382970980127987e3,
    2.26290000613890934246e4,
    4.92673942608635921086e4,
)
_TAIL_OVER = (
    2.46196981473530512524e-10,
    5.64189564831068821977e-1,
    7.46321056442269912687e0,
    4.86371970985681366614e1,
    1.96520832956077098242e2,
    5.26445194995477358631e2,
    9.34528527171957607540e2,
    1.02755188689515710272e3,
    5.57535335369399327526e2,
)
_TAIL_UNDER = (
    1.0,
    1.32281951154744992508e1,
    8.67072140885989742329e1,
    3.54937778887819891062e2,
    9.75708501743205489753e2,
    1.82390916687909736289e3,
    2.24633760818710981792e3,
    1.65666309194161350182e3,
    5.57535340817727675546e2,
)
MOST_SIGMA = 11.0
"""The tail's approximation holds up to eight times the root of two; normal draws stay far below."""


def _polynomial(x: FloatArray, coefficients: tuple[float, ...]) -> FloatArray:
    """Highest power first, by Horner's rule."""
    total = np.full(x.shape, coefficients[0])
    for coefficient in coefficients[1:]:
        total = total * x + coefficient
    return total


def normal_cdf(sigmas: FloatArray) -> FloatArray:
    """Probability that a standard normal value lies below each of `sigmas`, any shape, relative error about 1e-15.

    Raises
    ------
    ValueError
        When a value is not a number or lies more than 11 standard deviations from 0.
    """
    if not np.all(np.abs(sigmas) <= MOST_SIGMA):
        raise ValueError(f"sigmas: every value must be a number from -{MOST_SIGMA:g} to {MOST_SIGMA:g}")
    x = sigmas * math.sqrt(0.5)
    far = np.abs(x) >= 1.0
    found = np.empty_like(x)
    near = x[~far]
    square = near * near
    found[~far] = 0.5 + 0.5 * (near * _polynomial(square, _ERF_OVER) / _polynomial(square, _ERF_UNDER))
    out = np.abs(x[far])
    # the C library's exp: numpy's own differs from it by a last digit on some processors
    fall = np.array([math.exp(power) for power in (-out * out).tolist()])
    tail = 0.5 * (fall * _polynomial(out, _TAIL_OVER) / _polynomial(out, _TAIL_UNDER))
    found[far] = np.where(x[far] > 0.0, 1.0 - tail, tail)
    return found
