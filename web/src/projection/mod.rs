//! A variant as it stands, flat for a drawing: for the sketch and for the owner's cards.

pub mod look;
pub mod scene;
