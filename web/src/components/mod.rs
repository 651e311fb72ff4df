//! Controls and marks that pages are made of. They take narrow props and read no plan.

mod disclosure;
mod draft;
mod field;
mod icon;
mod live;
mod number_field;
mod pole_mark;
mod segments;
mod select_field;
mod text_field;
mod toggle;
mod vector_field;

pub use disclosure::Disclosure;
pub use draft::{Draft, use_draft};
pub use field::{FieldFrame, error_id};
pub use icon::{Shape, icon};
pub use live::Live;
pub use number_field::NumberField;
pub use pole_mark::{PoleMarkProps, pole_mark};
pub use segments::Segments;
pub use select_field::{Choice, SelectField};
pub use text_field::TextField;
pub use toggle::Toggle;
pub use vector_field::{VectorFieldProps, vector_field};
