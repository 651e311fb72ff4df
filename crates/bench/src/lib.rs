//! What the builder takes to the desk: drill list, buying list, work order.
