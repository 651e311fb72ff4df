//! Parts and sockets in detail: the few things that matter first, the rest folded away.

mod list;
mod page;
mod part_form;
mod patch_form;
mod place;
mod plug_form;
mod site_form;
mod socket_form;

pub use page::PartsPage;
