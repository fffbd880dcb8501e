//! Places and displacements, kept apart: adding two places has no meaning.

use serde::{Deserialize, Serialize};
use std::ops::{Add, Mul, Neg, Sub};

/// A place in the plane, inches, y up.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Point {
    /// To the right.
    pub x: f64,
    /// Up.
    pub y: f64,
}

/// A displacement, inches.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Vector {
    /// To the right.
    pub x: f64,
    /// Up.
    pub y: f64,
}

impl Point {
    /// The origin of a frame.
    pub const ORIGIN: Point = Point { x: 0.0, y: 0.0 };

    /// A place.
    pub const fn new(x: f64, y: f64) -> Self {
        Point { x, y }
    }

    /// How far to `other`.
    pub fn distance(self, other: Point) -> f64 {
        (other - self).length()
    }

    /// The place `share` of the way to `other`.
    pub fn toward(self, other: Point, share: f64) -> Point {
        self + (other - self) * share
    }
}

impl Vector {
    /// A displacement.
    pub const fn new(x: f64, y: f64) -> Self {
        Vector { x, y }
    }

    /// Its length.
    pub fn length(self) -> f64 {
        libm::hypot(self.x, self.y)
    }

    /// The same direction, one inch long; `None` for no displacement.
    pub fn unit(self) -> Option<Vector> {
        let length = self.length();
        (length > 0.0).then(|| self * (1.0 / length))
    }

    /// A quarter turn to the left.
    pub fn left(self) -> Vector {
        Vector::new(-self.y, self.x)
    }

    /// How far along `other`, times its length.
    pub fn dot(self, other: Vector) -> f64 {
        self.x * other.x + self.y * other.y
    }

    /// Positive when `other` points to the left of `self`; twice the area of their triangle.
    pub fn cross(self, other: Vector) -> f64 {
        self.x * other.y - self.y * other.x
    }
}

impl Add<Vector> for Point {
    type Output = Point;
    fn add(self, by: Vector) -> Point {
        Point::new(self.x + by.x, self.y + by.y)
    }
}

impl Sub for Point {
    type Output = Vector;
    fn sub(self, from: Point) -> Vector {
        Vector::new(self.x - from.x, self.y - from.y)
    }
}

impl Sub<Vector> for Point {
    type Output = Point;
    fn sub(self, by: Vector) -> Point {
        Point::new(self.x - by.x, self.y - by.y)
    }
}

impl Add for Vector {
    type Output = Vector;
    fn add(self, other: Vector) -> Vector {
        Vector::new(self.x + other.x, self.y + other.y)
    }
}

impl Sub for Vector {
    type Output = Vector;
    fn sub(self, other: Vector) -> Vector {
        Vector::new(self.x - other.x, self.y - other.y)
    }
}

impl Mul<f64> for Vector {
    type Output = Vector;
    fn mul(self, by: f64) -> Vector {
        Vector::new(self.x * by, self.y * by)
    }
}

impl Neg for Vector {
    type Output = Vector;
    fn neg(self) -> Vector {
        Vector::new(-self.x, -self.y)
    }
}
