//! Drill bits by their inch names: fractions of an inch and numbers.

/// Millimetres in an inch, exactly (international yard and pound agreement of 1959).
const MM_IN_INCH: f64 = 25.4;
/// Two diameters nearer than this are one bit, mm: less than a bit's own tolerance.
const SAME_MM: f64 = 0.003;

/// Diameters of the number sizes 1 to 80 of ASME B94.11M, in ten-thousandths of an inch (from memory).
const NUMBERS: [u16; 80] = [
    2280, 2210, 2130, 2090, 2055, 2040, 2010, 1990, 1960, 1935, //
    1910, 1890, 1850, 1820, 1800, 1770, 1730, 1695, 1660, 1610, //
    1590, 1570, 1540, 1520, 1495, 1470, 1440, 1405, 1360, 1285, //
    1200, 1160, 1130, 1110, 1100, 1065, 1040, 1015, 995, 980, //
    960, 935, 890, 860, 820, 810, 785, 760, 730, 700, //
    670, 635, 595, 550, 520, 465, 430, 420, 410, 400, //
    390, 380, 370, 360, 350, 330, 320, 310, 292, 280, //
    260, 250, 240, 225, 210, 200, 180, 160, 145, 135,
];

/// Diameter of a number size, mm; `None` for a number that is not in the series 1 to 80.
pub fn number_size_mm(number: usize) -> Option<f64> {
    let size = NUMBERS.get(number.checked_sub(1)?)?;
    Some(f64::from(*size) * MM_IN_INCH / 10_000.0)
}

/// What a bit is called in inches: `1/8 in` for a 64th or a multiple of it, `No. 42, 0.0935 in` for a number size, else the
/// decimal, `0.118 in`.
pub fn inch_name(bit_mm: f64) -> String {
    let inches = bit_mm / MM_IN_INCH;
    if !bit_mm.is_finite() || bit_mm <= 0.0 {
        return "0 in".to_owned();
    }
    let parts = (inches * 64.0).round();
    if parts >= 1.0 && (parts / 64.0 * MM_IN_INCH - bit_mm).abs() < SAME_MM {
        return fraction(parts);
    }
    let is_it = |n: &usize| number_size_mm(*n).is_some_and(|mm| (mm - bit_mm).abs() < SAME_MM);
    match (1..=NUMBERS.len()).find(is_it) {
        Some(n) => format!("No.\u{a0}{n}, {inches:.4} in"),
        None => format!("{inches:.3} in"),
    }
}

/// So many 64ths in lowest terms.
fn fraction(parts: f64) -> String {
    let (mut top, mut bottom) = (parts, 64.0);
    while bottom > 1.0 && top % 2.0 == 0.0 {
        (top, bottom) = (top / 2.0, bottom / 2.0);
    }
    let whole = (top / bottom).floor();
    let rest = top - whole * bottom;
    match (whole > 0.0, rest > 0.0) {
        (_, false) => format!("{whole:.0} in"),
        (false, true) => format!("{rest:.0}/{bottom:.0} in"),
        (true, true) => format!("{whole:.0} {rest:.0}/{bottom:.0} in"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Fractions: arithmetic. Number sizes in millimetres as drill charts print them (from memory): No. 1 5.791, No. 30 3.264,
    /// No. 52 1.613, No. 60 1.016, No. 80 0.343 mm.
    #[test]
    fn inch_bits_have_their_names() {
        assert_eq!(inch_name(3.175), "1/8 in");
        assert_eq!(inch_name(25.4), "1 in");
        assert_eq!(inch_name(38.1), "1 1/2 in");
        assert_eq!(inch_name(25.4 / 64.0), "1/64 in");
        assert_eq!(inch_name(3.0), "0.118 in");
        assert_eq!(inch_name(f64::NAN), "0 in");
        for (number, mm) in [
            (1, 5.791),
            (30, 3.264),
            (52, 1.613),
            (60, 1.016),
            (80, 0.343),
        ] {
            assert!(
                (number_size_mm(number).unwrap_or_default() - mm).abs() < 5e-4,
                "{number}"
            );
            let named = format!("No.\u{a0}{number}, ");
            assert!(
                inch_name(mm).starts_with(&named),
                "{number}: {}",
                inch_name(mm)
            );
        }
        assert_eq!((number_size_mm(0), number_size_mm(81)), (None, None));
        assert!(NUMBERS.windows(2).all(|pair| pair[0] > pair[1]));
    }
}
