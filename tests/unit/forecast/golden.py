"""Golden values of the growth model, worked out once by nested adaptive quadrature.

Made anew by test_golden_proof.py: scipy.integrate.quad over ln T and ln c, relative tolerance
1e-6, with shape 1, one detection assumption (eye .95/.05, hand .9/.9), ln T ~ N(ln 5, .8),
ln c ~ N(ln 8, .8) cut at 2.8 standard deviations, limit 5.  The tolerance asked for is 5e-4.
"""

from typing import Final

from ropewright.inspection.findings import Method

#: Clocks, methods, newly found, chance of the limit at 0, .25 and 1 after the last look.
GOLDEN: Final[
    tuple[tuple[tuple[float, ...], tuple[Method, ...], tuple[int, ...], tuple[float, ...]], ...]
] = (
    ((0.5, 1, 1.5, 2, 2.5, 3), ("feel",) * 6, (0,) * 6, (0.00000, 0.00361, 0.06764)),
    ((1, 1.5, 2), ("eye",) * 3, (1, 1, 2), (0.87665, 0.95755, 0.99466)),
    ((1.5, 2, 2.5, 3), ("eye", "eye", "eye", "feel"), (1, 1, 0, 2), (0.20569, 0.60641, 0.91730)),
)

#: Histories of the sampler: limit, clocks, methods, newly found in each window.
NUTS_ROPES: Final[
    dict[str, tuple[int, tuple[int, ...], tuple[Method, ...], tuple[tuple[int, ...], ...]]]
] = {
    "clean": (10, (182, 365, 547, 730, 913, 1095), ("feel",) * 6, ((0,) * 6,)),
    "slow": (10, (365, 456, 547, 639), ("feel",) * 4, ((1, 0, 1, 1),)),
    "burst": (10, (365, 456, 547, 577), ("feel",) * 4, ((0, 0, 1, 7),)),
    "eye": (5, (365, 456, 547), ("eye",) * 3, ((1, 1, 1),)),
    "mixed": (8, (300, 480, 660, 700), ("eye", "eye", "feel", "feel"), ((1, 0, 2, 0),)),
    "two": (10, (365, 547, 730), ("feel", "eye", "feel"), ((1, 0, 2), (0, 1, 0))),
}

NUTS_LEADS: Final = (0.0, 30.0, 91.0, 365.0)

#: Second formulation: the clean history by 20 million ropes drawn from the prior, each weighted by
#: the chance of what was found (end of tests/calibration/oracles.txt); same figures as below.
PRIOR_DRAWS: Final = (8.003673, 2.288025, 6.31806e-8, 5.09565e-5, 2.073247e-3, 5.538645e-2)

#: Other program: numpyro 0.22.0, tests/calibration/nuts_oracle.txt.  Mean and Monte Carlo error of
#: ln life, ln steepness, and of the chance of the limit at each lead.  Divergences: clean 64, eye
#: 55, mixed 18 of 50000 draws, none on the others.
NUTS: Final[dict[str, tuple[tuple[float, float], ...]]] = {
    "clean": (
        (8.00766, 0.00397),
        (2.28974, 0.00417),
        (0.00000, 0.00000),
        (0.00002, 0.00000),
        (0.00233, 0.00022),
        (0.05470, 0.00105),
    ),
    "slow": (
        (7.03086, 0.00395),
        (1.18530, 0.00504),
        (0.00023, 0.00001),
        (0.00687, 0.00019),
        (0.07237, 0.00110),
        (0.52754, 0.00363),
    ),
    "burst": (
        (6.33540, 0.00074),
        (2.93689, 0.00429),
        (0.75454, 0.00109),
        (0.99566, 0.00019),
        (0.99991, 0.00002),
        (1.00000, 0.00000),
    ),
    "eye": (
        (6.60163, 0.00385),
        (1.13846, 0.00495),
        (0.43784, 0.00149),
        (0.57234, 0.00186),
        (0.73708, 0.00210),
        (0.94287, 0.00138),
    ),
    "mixed": (
        (7.16677, 0.00348),
        (1.00981, 0.00389),
        (0.00073, 0.00002),
        (0.00870, 0.00019),
        (0.06733, 0.00084),
        (0.49050, 0.00279),
    ),
    "two": (
        (7.23972, 0.00363),
        (1.12767, 0.00420),
        (0.00043, 0.00002),
        (0.00419, 0.00013),
        (0.04022, 0.00058),
        (0.44257, 0.00310),
    ),
}
