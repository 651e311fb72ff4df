//! The forces whose speed is measured: one list, shared by the benchmark and by the timing in wasm and on this machine.

use lodewright_field::{
    Disc, FastPair, FieldError, Force, Magnet, Pose, Wrench, coaxial_attraction_n, force,
    steel_disc_attraction_n, wrench,
};

/// Two discs and the place of the second, for gaps in mm; what another program needs to repeat a kernel.
#[derive(Debug, Clone, Copy)]
pub struct Pair {
    /// Diameter and height of either disc in mm.
    pub discs_mm: [[f64; 2]; 2],
    /// Centre of the second disc in mm for a gap of 0.
    pub centre_mm: [f64; 3],
    /// How far each mm of the gap lifts that centre, in mm.
    pub lift: f64,
    /// Direction that the second disc is turned about.
    pub about: [f64; 3],
    /// Right-handed turn about that direction in degrees.
    pub angle_deg: f64,
}

/// Polarisation of every magnet here in T.
pub const POLARIZATION_T: f64 = 1.3;

const STRAIGHT: Pair = Pair {
    discs_mm: [[3.0, 1.0], [3.0, 1.0]],
    centre_mm: [0.0, 0.0, 1.0],
    lift: 1.0,
    about: [0.0, 1.0, 0.0],
    angle_deg: 0.0,
};
const UNEQUAL: Pair = Pair {
    discs_mm: [[3.0, 1.0], [5.0, 2.0]],
    centre_mm: [0.0, 0.0, 1.5],
    ..STRAIGHT
};
const OFFSET: Pair = Pair {
    centre_mm: [1.0, 0.0, 1.0],
    ..STRAIGHT
};
const TILTED: Pair = Pair {
    centre_mm: [0.3, 0.0, 1.4],
    angle_deg: 10.0,
    ..STRAIGHT
};
const ANY: Pair = Pair {
    centre_mm: [0.3, 0.4, 2.5],
    about: [1.0, 0.5, 0.2],
    angle_deg: 20.0,
    ..UNEQUAL
};
/// A little out of place, as tables are made for; offset and tilt as [`FastPair::attraction_n`] takes them.
const TABLE_OFFSET_MM: f64 = 0.2;
const TABLE_TILT_DEG: f64 = 1.0;
const TABLE_AZIMUTH_DEG: f64 = 30.0;
const TABLE_LEAST_GAP_MM: f64 = 0.3;
/// Half the gaps, so that no kernel leaves the tables.
const TABLE_LIFT: f64 = 0.5;

/// The tilted pose of the tables' kernel, turned about the centre of the near face.
fn table_tilted() -> Pair {
    let [d, h] = STRAIGHT.discs_mm;
    let (sin, cos) = libm::sincos(TABLE_TILT_DEG.to_radians());
    let (s, c) = libm::sincos(TABLE_AZIMUTH_DEG.to_radians());
    let half_mm = 0.5 * h[1];
    let rise_mm = 0.5 * d[1] + TABLE_LEAST_GAP_MM + half_mm * cos;
    Pair {
        centre_mm: [
            TABLE_OFFSET_MM + half_mm * sin * c,
            half_mm * sin * s,
            rise_mm,
        ],
        lift: TABLE_LIFT,
        about: [-s, c, 0.0],
        angle_deg: TABLE_TILT_DEG,
        ..STRAIGHT
    }
}

impl Pair {
    fn discs(&self) -> Result<[Disc; 2], FieldError> {
        let [first, second] = self.discs_mm.map(|[d, h]| Disc::new(d, h, POLARIZATION_T));
        Ok([first?, second?])
    }

    /// Force on the second disc by the way that takes any pose.
    ///
    /// # Errors
    /// [`FieldError`] for a disc or a place outside the limits.
    pub fn force(&self, gap_mm: f64) -> Result<Force, FieldError> {
        let ([first, second], pose) = self.at(gap_mm)?;
        force(&first, &second, &pose)
    }

    /// The same with the torque.
    ///
    /// # Errors
    /// [`FieldError`] for a disc or a place outside the limits.
    pub fn load(&self, gap_mm: f64) -> Result<Wrench, FieldError> {
        let ([first, second], pose) = self.at(gap_mm)?;
        wrench(&first, &second, &pose)
    }

    fn at(&self, gap_mm: f64) -> Result<([Magnet; 2], Pose), FieldError> {
        let [x, y, z] = self.centre_mm;
        let mut pose = Pose::shifted([x, y, z + self.lift * gap_mm])?;
        if self.angle_deg != 0.0 {
            pose = pose.turned(self.about, self.angle_deg)?;
        }
        Ok((self.discs()?.map(Magnet::Disc), pose))
    }
}

/// What is done with each kernel.
pub trait Visitor {
    /// `force` takes a gap in mm; `pair` is there where another program could compute the same.
    fn visit<F>(&mut self, name: &'static str, pair: Option<&Pair>, force: F)
    where
        F: Fn(f64) -> Result<f64, FieldError>;
}

/// Gaps of 0.1 to 5 mm, log-uniform and in a mixed order, so that no branch learns the next one.
pub fn gaps_mm() -> Vec<f64> {
    (0..1000_u32)
        .map(|i| 0.1 * libm::pow(50.0, (f64::from(i) * 0.618_033_988_75).fract()))
        .collect()
}

/// Shows every kernel to the visitor.
///
/// # Errors
/// [`FieldError`] only if one of the magnets above were outside the limits.
pub fn visit_all(visitor: &mut impl Visitor) -> Result<(), FieldError> {
    let [d, e] = UNEQUAL.discs()?;
    let attraction = |a: Disc, b: Disc| move |g| coaxial_attraction_n(&a, &b, g);
    visitor.visit("coaxial_equal", Some(&STRAIGHT), attraction(d, d));
    visitor.visit("coaxial_unequal", Some(&UNEQUAL), attraction(d, e));
    for (name, pair) in [
        ("offset", &OFFSET),
        ("tilted", &TILTED),
        ("any_attitude", &ANY),
    ] {
        visitor.visit(name, Some(pair), |g| Ok(pair.force(g)?.force_n[2]));
    }
    for (name, pair) in [
        ("offset_load", &OFFSET),
        ("tilted_load", &TILTED),
        ("any_attitude_load", &ANY),
    ] {
        visitor.visit(name, Some(pair), |g| Ok(pair.load(g)?.force_n[2]));
    }
    visitor.visit("steel_disc", None, |g| {
        steel_disc_attraction_n(&d, 5.0, 1.0, g, 1.05)
    });
    let magnet = Magnet::Disc(d);
    visitor.visit("field_value", None, |g| {
        magnet.field_t([1.0, 0.4, 0.5 + g]).map(|b| b[2])
    });
    let fast = FastPair::new(&d, &d)?;
    visitor.visit("table_coaxial", Some(&STRAIGHT), |g| fast.coaxial_n(g));
    let beside = Pair {
        centre_mm: [TABLE_OFFSET_MM, 0.0, 1.0],
        lift: TABLE_LIFT,
        ..STRAIGHT
    };
    visitor.visit("table_offset", Some(&beside), |g| {
        fast.attraction_n(TABLE_LIFT * g, TABLE_OFFSET_MM, 0.0, 0.0)
    });
    visitor.visit("table_tilted", Some(&table_tilted()), |g| {
        let gap_mm = TABLE_LEAST_GAP_MM + TABLE_LIFT * g;
        fast.attraction_n(gap_mm, TABLE_OFFSET_MM, TABLE_TILT_DEG, TABLE_AZIMUTH_DEG)
    });
    Ok(())
}
