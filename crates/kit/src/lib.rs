//! The plan: kit, parts, sockets, plugs, sites, variants, stock, settings, and the check that they fit together.
