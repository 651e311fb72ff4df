//! A counted pointer that compares by address, for props, contexts and memo keys.

use std::ops::Deref;
use std::rc::Rc;

/// Shares a value; equal only to its own clones, so that a comparison never walks through a whole plan.
#[derive(Debug)]
pub struct Shared<T: ?Sized>(Rc<T>);

impl<T> Shared<T> {
    /// Wraps a value.
    pub fn new(value: T) -> Self {
        Self(Rc::new(value))
    }
}

impl<T: ?Sized> Clone for Shared<T> {
    fn clone(&self) -> Self {
        Self(Rc::clone(&self.0))
    }
}

impl<T: ?Sized> PartialEq for Shared<T> {
    fn eq(&self, other: &Self) -> bool {
        Rc::ptr_eq(&self.0, &other.0)
    }
}

impl<T: ?Sized> Deref for Shared<T> {
    type Target = T;
    fn deref(&self) -> &T {
        &self.0
    }
}

impl<T: ?Sized> From<Rc<T>> for Shared<T> {
    fn from(value: Rc<T>) -> Self {
        Self(value)
    }
}

impl<T: Default> Default for Shared<T> {
    fn default() -> Self {
        Self::new(T::default())
    }
}
