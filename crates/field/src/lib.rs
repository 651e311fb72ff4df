//! Fields, forces and torques of small permanent magnets; knows nothing of kits.
