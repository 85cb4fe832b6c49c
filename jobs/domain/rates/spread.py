"""How far a figure may lie from the truth four times of five."""

Z_80 = 1.2815515655446004
"""The 0.90 quantile of the normal distribution."""


def t_80(freedom: float) -> float:
    """Return the 0.90 quantile of Student's t with `freedom` degrees of freedom, 4 or more.

    By the expansion of Fisher and Cornish in 1 / freedom (Abramowitz and Stegun 26.7.5, from
    memory); good to 0.001 from 4 on, which the tests hold against an outside value.
    """
    z = Z_80
    terms = (
        (z**3 + z) / 4,
        (5 * z**5 + 16 * z**3 + 3 * z) / 96,
        (3 * z**7 + 19 * z**5 + 17 * z**3 - 15 * z) / 384,
        (79 * z**9 + 776 * z**7 + 1482 * z**5 - 1920 * z**3 - 945 * z) / 92160,
    )
    return z + sum(term / freedom**place for place, term in enumerate(terms, start=1))
