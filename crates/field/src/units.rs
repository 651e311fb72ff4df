//! Physical constants and the factors between mm-based and SI quantities.

use core::f64::consts::PI;

/// Magnetic constant in T m/A. The CODATA 2022 value differs by 1.3e-10 relative, far below any magnet's tolerance.
pub const MU0_T_M_PER_A: f64 = 4e-7 * PI;

/// Force in N per T^2 mm^2: 1e-6 / mu0.
pub(crate) const N_PER_T2_MM2: f64 = 1e-6 / MU0_T_M_PER_A;

/// Density of sintered NdFeB in g/cm^3; maker tables give 7.50 to 7.65.
pub const NDFEB_DENSITY_G_PER_CM3: f64 = 7.5;
