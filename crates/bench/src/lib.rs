//! What the builder takes to the desk: drill list, buying list, work order.
//!
//! Everything is worked out from the plan and the answers of the joints; nothing is decided here but sizes of bits, packs
//! and the order of work.

mod buy;
mod drill;
mod inch_bits;
mod own;
mod step;
mod steps;
mod work;

pub use buy::{Bought, BuyLine, BuyList, buy_list};
pub use drill::{DrillFrom, DrillLine, drill_list};
pub use inch_bits::{inch_name, number_size_mm};
pub use own::go_key;
pub use step::{OwnName, StepKind, Task, WorkStep};
pub use work::{WorkOrder, work_order};
