//! Vectors of two or three coordinates: the same functions for both.

use core::array::from_fn;

/// x, y, z in mm (or a direction, without unit).
pub type Vec3 = [f64; 3];

/// Sum of two vectors.
pub fn add<const N: usize>(a: [f64; N], b: [f64; N]) -> [f64; N] {
    from_fn(|k| a[k] + b[k])
}

/// Difference `a - b`.
pub fn sub<const N: usize>(a: [f64; N], b: [f64; N]) -> [f64; N] {
    from_fn(|k| a[k] - b[k])
}

/// A vector times a number.
pub fn scale<const N: usize>(a: [f64; N], k: f64) -> [f64; N] {
    a.map(|x| x * k)
}

/// The point at `t` on the way from `a` (0) to `b` (1).
pub fn lerp<const N: usize>(a: [f64; N], b: [f64; N], t: f64) -> [f64; N] {
    from_fn(|k| a[k] + t * (b[k] - a[k]))
}

/// Scalar product.
pub fn dot<const N: usize>(a: [f64; N], b: [f64; N]) -> f64 {
    (1..N).fold(a[0] * b[0], |sum, k| sum + a[k] * b[k])
}

/// Length.
pub fn norm<const N: usize>(a: [f64; N]) -> f64 {
    dot(a, a).sqrt()
}

/// Distance of two points.
pub fn distance<const N: usize>(a: [f64; N], b: [f64; N]) -> f64 {
    norm(sub(a, b))
}

/// `a` at length one, or `None` where it has no direction.
pub fn unit<const N: usize>(a: [f64; N]) -> Option<[f64; N]> {
    let n = norm(a);
    (n > 1e-300 && n.is_finite()).then(|| scale(a, 1.0 / n))
}

/// Vector product.
pub fn cross(a: Vec3, b: Vec3) -> Vec3 {
    from_fn(|k| {
        let (i, j) = ((k + 1) % 3, (k + 2) % 3);
        a[i] * b[j] - a[j] * b[i]
    })
}

/// The vector product's one component in the plane: positive where `b` is counter-clockwise of `a`.
pub fn cross2(a: [f64; 2], b: [f64; 2]) -> f64 {
    a[0] * b[1] - a[1] * b[0]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn products_of_the_axes_are_those_of_a_right_handed_frame() {
        let [x, y, z] = [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]];
        assert_eq!([cross(x, y), cross(y, z), cross(z, x)], [z, x, y]);
        assert_eq!(
            [cross(y, x), cross(z, y), cross(x, z)],
            [z, x, y].map(|v| scale(v, -1.0))
        );
        assert_eq!(cross2([1.0, 0.0], [0.0, 1.0]), 1.0);
    }

    #[test]
    fn lengths_are_those_of_pythagorean_triples_and_quadruples() {
        assert_eq!(distance([1.0, 1.0], [4.0, 5.0]), 5.0);
        assert_eq!(norm([2.0, -3.0, 6.0]), 7.0);
        assert_eq!(unit([0.0, 0.0, -4.0]), Some([0.0, 0.0, -1.0]));
        assert_eq!(unit([0.0; 2]), None);
        assert_eq!(unit([f64::INFINITY, 0.0]), None);
        assert_eq!(lerp([1.0, 2.0], [5.0, 0.0], 0.25), [2.0, 1.5]);
    }
}
