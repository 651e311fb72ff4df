//! Small programs that show the core in use; see each example.
