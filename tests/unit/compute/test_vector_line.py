"""A vector that follows a current: which of its axes tells how much the rows are worth."""

import numpy as np

from preflint.compute.regression import vector_line


def test_an_axis_that_is_rough_as_declared_does_not_hide_that_another_one_wanders():
    """Forward scatters by 1 µT, as declared; right, declared to hundredths, wanders by half as much.

    A first-order walk of 0.9 has (1 + 0.9) / (1 - 0.9) = 19 rows for each that says something new. In another order
    the same readings remember nothing.
    """
    rng = np.random.default_rng(6)
    n = 200
    amperes = np.tile(np.linspace(0, 20, 20), 10)
    noise = np.zeros((n, 3))
    for i in range(1, n):
        noise[i, 1] = 0.9 * noise[i - 1, 1] + rng.normal(0, 0.5 * np.sqrt(1 - 0.9**2))
    noise[:, 0] = rng.normal(0, 1, n)
    u = np.tile([1.0, 0.01, 0.01], (n, 1))
    together, apart = (vector_line(amperes, rows, u_field=u) for rows in (noise, rng.permutation(noise)))
    assert together.dof < apart.dof / 5
