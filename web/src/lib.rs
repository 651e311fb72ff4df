//! The browser app.
