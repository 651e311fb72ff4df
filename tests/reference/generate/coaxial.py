# Coaxial discs, and a disc on an ideal plate: the closed form in many digits, and the charges of one in the field of the other.
from mpmath import ellipe, ellipk, ellippi, mp, mpf, pi as mp_pi

from discs import charged_pairs

SIZES = [(1, 1), (2, 1), (3, 1), (3, 2), (3, 3), (4, 2), (5, 1), (5, 2), (6, 2), (6, 3), (8, 3), (10, 2), (10, 5)]
UNLIKE = [((1, 1), (3, 1)), ((2, 1), (10, 5)), ((3, 1), (3, 3)), ((3, 1), (5, 2)), ((3, 2), (6, 3)), ((4, 2), (6, 2)),
          ((5, 2), (3, 1)), ((5, 2), (8, 3)), ((6, 2), (10, 2)), ((6, 3), (3, 1)), ((8, 3), (10, 5)), ((10, 5), (2, 1))]
PAIRS = [(size, size) for size in SIZES] + UNLIKE
GAPS = [0, 0.05, 0.1, 0.2, 0.5, 1, 1.5, 2, 3, 5, 10]
BR_T = 1.3


def closed_form_n(d1, h1, d2, h2, gap, digits=40):
    """Attraction in N: W. Robertson, B. Cazzolato and A. Zander, IEEE Trans. Magn. 47 (2011) 2045-2049."""
    with mp.workdps(90 if gap == 0 else digits):
        r1, r2, h1, h2, gap = mpf(str(d1)) / 2, mpf(str(d2)) / 2, mpf(str(h1)), mpf(str(h2)), mpf(str(gap))
        total = mpf(0)
        for i, zi in enumerate((mpf(0), h1)):
            for j, zj in enumerate((h1 + gap, h1 + gap + h2)):
                a1 = zj - zi
                if a1 == 0:
                    a1 = mpf(10) ** -30
                a2 = (r1 - r2) ** 2 / a1**2 + 1
                a3 = mp.sqrt((r1 + r2) ** 2 + a1**2)
                a4 = 4 * r1 * r2 / a3**2
                bracket = ellipk(a4) - ellipe(a4) / a2
                if r1 != r2:
                    bracket += (a1**2 / a3**2 - 1) * ellippi(a4 / (1 - a2), a4)
                total += (-1) ** (i + j) * a1 * a2 * a3 * bracket
        s = mpf(str(BR_T)) ** 2 / (2 * 4 * mp_pi * mpf(10) ** -7)
        return float(total * s * mpf(10) ** -6)


def charges_n(d1, h1, d2, h2, gap):
    """The same from the discs of charge on the pole faces, one in the exact field of the other (an independent method)."""
    return -charged_pairs(d1, h1, d2, h2, 0.0, gap + (h1 + h2) / 2, BR_T)[1]


class Coaxial:
    name = "coaxial"
    header = "D1_mm,h1_mm,D2_mm,h2_mm,gap_mm,Br_T,attraction_N,est_rel_error,rel_diff_charged_disc_quadrature".split(",")
    values = ["attraction_N"]

    def draw(self, random):
        (a, b), gap = random.choice(PAIRS), random.choice(GAPS)
        return dict(zip(self.header, [*a, *b, gap, BR_T]))

    def size(self, row):
        return [row[k] for k in self.header[:5]]

    def compute(self, row):
        size = self.size(row)
        exact, second = closed_form_n(*size), charges_n(*size)
        difference = abs(second / exact - 1)
        return {"attraction_N": exact, "est_rel_error": 1e-12, "rel_diff_charged_disc_quadrature": difference}

    def stated(self, row):
        """Error that a row states for each of its values, in their units."""
        return {"attraction_N": row["est_rel_error"] * abs(row["attraction_N"])}

    def own(self, fresh):
        """Error of a fresh row: the difference of its two methods."""
        return {"attraction_N": fresh["rel_diff_charged_disc_quadrature"] * abs(fresh["attraction_N"])}


class Plate(Coaxial):
    name = "plate"
    header = "D_mm,h_mm,gap_mm,magnet_to_image_gap_mm,Br_T,attraction_N,est_rel_error,rel_diff_charged_disc_quadrature".split(",")

    def draw(self, random):
        size, gap = random.choice(SIZES), random.choice(GAPS)
        return dict(zip(self.header, [*size, gap, 2 * gap, BR_T]))

    def size(self, row):
        d, h, image_gap = row["D_mm"], row["h_mm"], row["magnet_to_image_gap_mm"]
        return [d, h, d, h, image_gap]
