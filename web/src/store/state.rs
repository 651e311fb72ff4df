//! What the store holds.

use lodewright_planner::kit::{Plan, slug};
use yew::AttrValue;

use super::{History, Notice};
use crate::shared::Shared;

/// Names a plan in this browser, in addresses and in storage.
pub type PlanKey = AttrValue;

/// Every plan in this browser, the one last touched first.
pub type Shelf = Vec<Entry>;

/// Everything the app knows.
#[derive(Clone, Debug, Default)]
pub struct AppState {
    /// The plans.
    pub shelf: Shared<Shelf>,
    /// The one that is looked at.
    pub open: Option<PlanKey>,
    /// The plan that was deleted last.
    pub deleted: Option<Entry>,
    /// Keys of deleted plans: their earlier states bear them, so that no other plan may.
    pub spent: Shared<Vec<PlanKey>>,
    /// What the reader is told.
    pub notice: Option<Notice>,
    /// Counts notices.
    pub notices: u32,
    /// How the keeping goes.
    pub save: SaveState,
    /// How the keeping of what is being typed goes; idle where nothing is.
    pub typing: SaveState,
    /// Whether another window edits the open plan: this one then only shows it.
    pub follows: bool,
}

/// A plan on the shelf.
#[derive(Clone, Debug)]
pub struct Entry {
    /// Its key.
    pub key: PlanKey,
    /// The plan, or what could not be read.
    pub content: Content,
    /// When it was last kept, milliseconds since 1970; 0 where not known.
    pub changed_ms: f64,
}

/// What an entry holds.
#[derive(Clone, Debug)]
pub enum Content {
    /// A plan with its history.
    Plan(OpenDocument),
    /// Text that is no plan; it is kept as it is.
    Damaged {
        /// The text.
        text: AttrValue,
        /// Why it was not read.
        said: AttrValue,
    },
}

/// A plan and how it became so.
#[derive(Clone, Debug)]
pub struct OpenDocument {
    /// As it is now.
    pub plan: Shared<Plan>,
    /// As it was.
    pub history: Shared<History>,
}

/// How the keeping in this browser goes.
#[derive(Clone, Debug, Default, PartialEq)]
pub enum SaveState {
    /// Nothing to keep yet.
    #[default]
    Idle,
    /// Something is not kept yet.
    Pending,
    /// All is kept, since this time in milliseconds since 1970.
    Kept(f64),
    /// All is kept, but only where a crash of the browser may lose the last minute: since when, and why.
    Half(f64, AttrValue),
    /// Keeping failed, for this reason.
    Failed(AttrValue),
}

impl SaveState {
    /// Keeping failed, for this reason.
    pub fn failed(said: String) -> Self {
        Self::Failed(said.into())
    }

    /// Of two, the one that the reader should know of.
    pub fn worse<'a>(&'a self, other: &'a Self) -> &'a Self {
        let rank = |state: &Self| match state {
            Self::Failed(_) => 4,
            Self::Pending => 3,
            Self::Half(..) => 2,
            Self::Kept(_) => 1,
            Self::Idle => 0,
        };
        if rank(other) > rank(self) {
            other
        } else {
            self
        }
    }
}

impl AppState {
    /// The store at the start.
    pub fn starting(shelf: Shelf) -> Self {
        Self {
            shelf: Shared::new(shelf),
            ..Self::default()
        }
    }

    /// The entry of this key.
    pub fn entry(&self, key: &str) -> Option<&Entry> {
        self.shelf.iter().find(|e| e.key == *key)
    }

    /// The open plan with its history.
    pub fn track(&self) -> Option<&OpenDocument> {
        self.entry(self.open.as_deref()?)?.track()
    }

    /// A key that no plan has or had, made from a title.
    pub fn fresh_key(&self, title: &str) -> PlanKey {
        let taken = self.shelf.iter().map(|e| e.key.as_str());
        let taken = taken.chain(self.spent.iter().map(AttrValue::as_str));
        AttrValue::from(slug(title, taken))
    }

    /// A title that no plan has, made from another.
    pub fn fresh_title(&self, title: &str) -> String {
        let taken = |t: &str| self.shelf.iter().any(|e| e.title() == t);
        if !taken(title) {
            return title.to_owned();
        }
        let numbered = (2..10_000).map(|n| format!("{title} {n}"));
        numbered
            .into_iter()
            .find(|t| !taken(t))
            .unwrap_or_else(|| title.to_owned())
    }
}

impl Entry {
    /// A plan that was not here before.
    pub fn of(key: PlanKey, plan: Plan) -> Self {
        Self {
            key,
            content: Content::Plan(OpenDocument {
                plan: Shared::new(plan),
                history: Shared::default(),
            }),
            changed_ms: 0.0,
        }
    }

    /// The plan with its history, where it could be read.
    pub fn track(&self) -> Option<&OpenDocument> {
        match &self.content {
            Content::Plan(track) => Some(track),
            Content::Damaged { .. } => None,
        }
    }

    /// Its title, or its key where it could not be read.
    pub fn title(&self) -> &str {
        self.track().map_or(self.key.as_str(), |t| &t.plan.title)
    }
}
