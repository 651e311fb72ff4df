//! What sits where: assembly trees, legal models, what may be glued, how to change one variant into another.
