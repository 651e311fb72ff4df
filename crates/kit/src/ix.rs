//! Typed places in lists: a part's index is no socket's index, and neither is a count.
//!
//! [`index_type!`](crate::index_type) makes one such type for the entries of one list. It indexes that list and no
//! other, so that the wrong list does not compile; what is worked out entry by entry stands in a [`Table`].
//!
//! ```
//! use lodewright_kit::{Ix, PartIx, Plan, Table};
//!
//! let plan = Plan::empty("Tug");
//! let base = PartIx::find(&plan.parts, |p| p.id == plan.base).unwrap();
//! assert_eq!(plan.parts[base].name, "Base");
//! let plugs = Table::<PartIx, _>::of(&plan.parts, |_, part| part.plugs.len());
//! assert_eq!(plugs[base], 0);
//! for (part, entry) in PartIx::each(&plan.parts) {
//!     assert_eq!((part.get(), &entry.name), (0, &plan.parts[part].name));
//! }
//! ```
//!
//! ```compile_fail,E0277
//! # use lodewright_kit::{Ix, PartIx, Plan};
//! let plan = Plan::empty("Tug");
//! let _ = &plan.sockets[PartIx::new(0)];
//! ```

use std::marker::PhantomData;
use std::ops::{Index, IndexMut};

use serde::{Deserialize, Serialize};

use crate::{MagnetStock, Part, Plug, Socket, SteelStock, Variant};

/// The place of an entry in its list.
pub trait Ix: Copy + Ord {
    /// What the list holds.
    type Entry;

    /// The entry after `index` others.
    fn new(index: usize) -> Self;

    /// How many entries stand before it: for the outermost edge, such as a row's number.
    fn get(self) -> usize;

    /// The entries of a list with their places, in order.
    fn each(
        list: &[Self::Entry],
    ) -> impl DoubleEndedIterator<Item = (Self, &Self::Entry)> + ExactSizeIterator + Clone {
        list.iter().enumerate().map(|(i, x)| (Self::new(i), x))
    }

    /// The places in a list, in order.
    fn all(
        list: &[Self::Entry],
    ) -> impl DoubleEndedIterator<Item = Self> + ExactSizeIterator + Clone + use<Self> {
        (0..list.len()).map(Self::new)
    }

    /// The first entry that is asked for.
    fn find(list: &[Self::Entry], is: impl FnMut(&Self::Entry) -> bool) -> Option<Self> {
        list.iter().position(is).map(Self::new)
    }
}

/// Makes the index type of a list: `index_type! { /// A part. pub PartIx of Part }`. Its text form is the bare number.
/// The crate that makes one needs `serde`.
#[macro_export]
macro_rules! index_type {
    ($($(#[$doc:meta])* $vis:vis $name:ident of $entry:ty;)+) => {$(
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize, serde::Deserialize)]
        #[serde(transparent)]
        $vis struct $name(usize);

        impl $crate::Ix for $name {
            type Entry = $entry;

            fn new(index: usize) -> Self {
                Self(index)
            }

            fn get(self) -> usize {
                self.0
            }
        }

        $crate::index_type!(@list $name, $entry, [$entry]);
        $crate::index_type!(@list $name, $entry, ::std::vec::Vec<$entry>);
    )+};
    (@list $name:ident, $entry:ty, $list:ty) => {
        impl ::std::ops::Index<$name> for $list {
            type Output = $entry;

            fn index(&self, at: $name) -> &$entry {
                &self[at.0]
            }
        }

        impl ::std::ops::IndexMut<$name> for $list {
            fn index_mut(&mut self, at: $name) -> &mut $entry {
                &mut self[at.0]
            }
        }
    };
}

index_type! {
    /// A part of the plan.
    pub PartIx of Part;
    /// A plug of one part.
    pub PlugIx of Plug;
    /// A socket of the plan.
    pub SocketIx of Socket;
    /// A variant of the plan.
    pub VariantIx of Variant;
    /// A magnet size in stock.
    pub MagnetIx of MagnetStock;
    /// A steel size in stock.
    pub SteelIx of SteelStock;
}

/// One value for each entry of a list.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Table<I, T>(Vec<T>, PhantomData<I>);

impl<I: Ix, T> Table<I, T> {
    /// The value of each entry of `list`.
    pub fn of(list: &[I::Entry], mut value: impl FnMut(I, &I::Entry) -> T) -> Self {
        I::each(list).map(|(i, x)| value(i, x)).collect()
    }

    /// The values with the places of their entries, in order.
    pub fn iter(&self) -> impl DoubleEndedIterator<Item = (I, &T)> + ExactSizeIterator + Clone {
        self.0.iter().enumerate().map(|(i, x)| (I::new(i), x))
    }

    /// The value of an entry; `None` for a place beyond the list, such as one kept from before an edit.
    pub fn get(&self, at: I) -> Option<&T> {
        self.0.get(at.get())
    }

    /// The values alone, in order.
    pub fn values(&self) -> &[T] {
        &self.0
    }
}

impl<I, T> Default for Table<I, T> {
    fn default() -> Self {
        Self(Vec::new(), PhantomData)
    }
}

impl<I, T> FromIterator<T> for Table<I, T> {
    fn from_iter<L: IntoIterator<Item = T>>(values: L) -> Self {
        Self(values.into_iter().collect(), PhantomData)
    }
}

impl<I: Ix, T> Index<I> for Table<I, T> {
    type Output = T;

    fn index(&self, at: I) -> &T {
        &self.0[at.get()]
    }
}

impl<I: Ix, T> IndexMut<I> for Table<I, T> {
    fn index_mut(&mut self, at: I) -> &mut T {
        &mut self.0[at.get()]
    }
}
