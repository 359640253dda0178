"""A fence of one day as a circuit, solved by turning the whole matrix round:
slow and plain, unlike the program's way."""
import math

import figures


def inverse(matrix):
    """Gauss and Jordan; the matrix is one of conductances, so no pivots."""
    n = len(matrix)
    rows = [row[:] + [float(i == k) for k in range(n)]
            for i, row in enumerate(matrix)]
    for i in range(n):
        scale = rows[i][i]
        rows[i] = [x / scale for x in rows[i]]
        for k in range(n):
            factor = rows[k][i]
            if k != i and factor:
                rows[k] = [x - factor * y for x, y in zip(rows[k], rows[i])]
    return [row[n:] for row in rows]


class Network:
    def __init__(self):
        self.count, self.named, self.links = 1, {}, []  # 0: the energizer

    def node(self, name=None):
        if name is not None and name in self.named:
            return self.named[name]
        self.count += 1
        if name is not None:
            self.named[name] = self.count - 1
        return self.count - 1

    def ohm(self, a, b, ohm):
        self.links.append((a, b, 1 / max(ohm, 1e-6), 0))

    def wire(self, a, b, length_m, ohm_m, siemens_m):
        """A leaky line between its ends: exactly a pi."""
        if not length_m > 0:
            self.ohm(a, b, 0)
            return
        through, leak = ohm_m * length_m, siemens_m * length_m
        u = math.sqrt(through * leak)
        along = u / (through * math.sinh(u)) if u > 1e-9 else 1 / through
        ends = leak / 2 * (math.tanh(u / 2) / (u / 2) if u > 1e-9 else 1)
        self.links.append((a, b, along, ends))

    def solve(self, open_v, source_ohm, hooves_ohm):
        """Volts on a tester and to a sheep on such ground, by node."""
        grid = [[0.0] * self.count for _ in range(self.count)]
        grid[0][0] += 1 / source_ohm
        for a, b, along, ends in self.links:
            grid[a][a] += along + ends
            grid[b][b] += along + ends
            grid[a][b] -= along
            grid[b][a] -= along
        back = inverse(grid)
        volts = [back[k][0] * open_v / source_ohm for k in range(self.count)]
        rest_ohm = figures.BODY_OHM + hooves_ohm
        return volts, [v * figures.BODY_OHM / (rest_ohm + back[k][k])
                       for k, v in enumerate(volts)]
