//! Gauss-Kronrod pairs: a sharp rule and a blunt one from the same values, so that every integral carries an error estimate.
//!
//! The 15-point rule is that of QUADPACK (Piessens et al. 1983); the 9-point rule was computed from the Stieltjes polynomial
//! in 60 digits.

/// A node on 0..1 of the symmetric rule with its sharp and its blunt weight.
pub(crate) type Node = (f64, f64, f64);

/// 15 points over 7.
pub(crate) const K15: [Node; 8] = [
    (0.991_455_371_120_812_6, 0.022_935_322_010_529_224, 0.0),
    (
        0.949_107_912_342_758_5,
        0.063_092_092_629_978_55,
        0.129_484_966_168_869_7,
    ),
    (0.864_864_423_359_769_1, 0.104_790_010_322_250_19, 0.0),
    (
        0.741_531_185_599_394_4,
        0.140_653_259_715_525_92,
        0.279_705_391_489_276_64,
    ),
    (0.586_087_235_467_691_1, 0.169_004_726_639_267_9, 0.0),
    (
        0.405_845_151_377_397_2,
        0.190_350_578_064_785_4,
        0.381_830_050_505_118_9,
    ),
    (0.207_784_955_007_898_47, 0.204_432_940_075_298_9, 0.0),
    (0.0, 0.209_482_141_084_727_82, 0.417_959_183_673_469_4),
];

/// 9 points over 4.
pub(crate) const K9: [Node; 5] = [
    (0.976_560_250_737_573_1, 0.062_977_373_665_473_01, 0.0),
    (
        0.861_136_311_594_052_6,
        0.170_053_605_335_722_73,
        0.347_854_845_137_453_85,
    ),
    (0.640_286_217_496_31, 0.266_798_340_452_284_45, 0.0),
    (
        0.339_981_043_584_856_26,
        0.326_949_189_601_451_63,
        0.652_145_154_862_546_1,
    ),
    (0.0, 0.346_442_981_890_136_36, 0.0),
];

/// All nodes of a symmetric rule: each listed one and, save the middle, its mirror image.
pub(crate) fn both_sides(rule: &[Node]) -> impl Iterator<Item = Node> + '_ {
    rule.iter().flat_map(|&(x, k, g)| {
        let mirrored = (x != 0.0).then_some((-x, k, g));
        core::iter::once((x, k, g)).chain(mirrored)
    })
}

/// QUADPACK has 200 here, which for the smooth sheets of this crate asks for a thousand times too much.
const SHARPNESS: f64 = 30.0;

/// What QUADPACK makes of the difference of the two rules: the sharp rule is far better than the blunt one once both have
/// begun to converge, which the size of the difference against that of the integrand tells.
pub(crate) fn sharpened_error(difference: f64, variation: f64) -> f64 {
    if variation <= 0.0 || difference <= 0.0 {
        return difference.max(0.0);
    }
    let ratio = SHARPNESS * difference / variation;
    variation * (ratio * ratio.sqrt()).min(1.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn moment(rule: &[Node], power: i32) -> (f64, f64) {
        both_sides(rule).fold((0.0, 0.0), |s, (x, k, g)| {
            (s.0 + k * x.powi(power), s.1 + g * x.powi(power))
        })
    }

    #[test]
    fn sharp_and_blunt_rules_have_their_degrees() {
        for (rule, sharp, blunt) in [(&K15[..], 22, 13), (&K9[..], 13, 7)] {
            for power in 0..=sharp {
                let exact = if power % 2 == 0 {
                    2.0 / (f64::from(power) + 1.0)
                } else {
                    0.0
                };
                let (k, g) = moment(rule, power);
                assert!((k - exact).abs() < 1e-14, "sharp, power {power}");
                assert!(
                    power > blunt || (g - exact).abs() < 1e-14,
                    "blunt, power {power}"
                );
            }
        }
    }
}
