//! The store in the page: contexts in slices, so that a component only renders for what it reads.

use std::cell::RefCell;

use lodewright_planner::kit::{Edit, Part, PartId, Plan, Socket, SocketId};
use yew::prelude::*;

use super::{Action, AppState, Notice, PlanKey, SaveState, Shelf};
use crate::shared::Shared;

/// What a control learns about the value it handed over: taken, or why not.
pub type Outcome = Result<(), AttrValue>;

/// A callback that hands a value over and learns whether it was taken.
pub type Edited<V> = Callback<V, Outcome>;

thread_local! {
    static AFTER: RefCell<Option<Callback<()>>> = RefCell::default();
}

/// What is done after every action, before the page is rendered anew.
pub fn after_actions(run: Option<Callback<()>>) {
    AFTER.set(run);
}

/// Reads and changes the store. Equal to every other handle, so that readers of this context never render for it.
#[derive(Clone)]
pub struct Store(UseReducerHandle<AppState>);

impl PartialEq for Store {
    fn eq(&self, _: &Self) -> bool {
        true
    }
}

impl Store {
    /// Sends an action.
    pub fn send(&self, action: Action) {
        self.read(|state| super::session_trail::note_action(&action, state));
        self.0.dispatch(action);
        let after = AFTER.with_borrow(Clone::clone);
        if let Some(after) = after {
            after.emit(());
        }
    }

    /// Sends an edit of the open plan; a refusal becomes a notice.
    pub fn edit(&self, edit: Edit) {
        self.send(Action::Edit(edit));
    }

    /// Tries an edit of the open plan and says beside the control why it was refused.
    pub fn try_edit(&self, edit: Edit) -> Outcome {
        // Where another window edits, the store itself refuses and offers to take the plan over.
        let tried = self.read(|s| {
            let track = s.track().filter(|_| !s.follows);
            track.map(|t| t.plan.edited(&edit).map(|_| ()))
        });
        match tried {
            Some(Err(refusal)) => Err(refusal.beside_the_field().into()),
            _ => {
                self.edit(edit);
                Ok(())
            }
        }
    }

    /// Looks at the store as it is now, not as it was at the last render.
    pub fn read<T>(&self, look: impl FnOnce(&AppState) -> T) -> T {
        // A clone of the handle: the handle itself would hold on to every state that it was ever read in.
        let now = self.0.clone();
        look(&now)
    }

    /// Adds a socket on the base under a name of the usual form, to be renamed at once.
    pub fn add_socket(&self) -> Option<SocketId> {
        let (name, host) = self.read(|s| {
            let plan = &s.track()?.plan;
            Some((
                format!("Socket {}", plan.sockets.len() + 1),
                plan.base.clone(),
            ))
        })?;
        self.try_edit(Edit::AddSocket { name, host }).ok()?;
        self.read(|s| Some(s.track()?.plan.sockets.last()?.id.clone()))
    }

    /// A commit callback that changes the open plan by an edit made from the plan as it is at that moment.
    pub fn edited<V: 'static>(
        &self,
        edit: impl Fn(&Plan, V) -> Option<Edit> + 'static,
    ) -> Edited<V> {
        let store = self.clone();
        Callback::from(move |value| {
            store.try_made(store.open_plan().and_then(|plan| edit(&plan, value)))
        })
    }

    /// A press of a button that changes the open plan; a refusal becomes a notice.
    pub fn press(&self, edit: impl Fn(&Plan) -> Option<Edit> + 'static) -> Callback<MouseEvent> {
        let store = self.clone();
        Callback::from(move |_: MouseEvent| {
            if let Some(edit) = store.open_plan().and_then(|plan| edit(&plan)) {
                store.edit(edit);
            }
        })
    }

    // Apart from the callbacks that use them: each of those is compiled for itself.
    #[inline(never)]
    fn open_plan(&self) -> Option<Shared<Plan>> {
        self.read(|s| s.track().map(|t| t.plan.clone()))
    }

    #[inline(never)]
    fn try_made(&self, edit: Option<Edit>) -> Outcome {
        edit.map_or(Ok(()), |edit| self.try_edit(edit))
    }

    /// A commit callback that changes one part.
    pub fn part<V: 'static>(
        &self,
        id: &PartId,
        change: impl Fn(&mut Part, V) + 'static,
    ) -> Edited<V> {
        let (store, id) = (self.clone(), id.clone());
        Callback::from(move |value| {
            let Some(mut part) = store.part_now(&id) else {
                return Ok(());
            };
            change(&mut part, value);
            store.try_edit(Edit::PutPart(part))
        })
    }

    #[inline(never)]
    fn part_now(&self, id: &PartId) -> Option<Box<Part>> {
        self.open_plan()?.part(id).cloned().map(Box::new)
    }

    /// A commit callback that changes one socket.
    pub fn socket<V: 'static>(
        &self,
        id: &SocketId,
        change: impl Fn(&mut Socket, V) + 'static,
    ) -> Edited<V> {
        let (store, id) = (self.clone(), id.clone());
        Callback::from(move |value| {
            let Some(mut socket) = store.socket_now(&id) else {
                return Ok(());
            };
            change(&mut socket, value);
            store.try_edit(Edit::PutSocket(socket))
        })
    }

    #[inline(never)]
    fn socket_now(&self, id: &SocketId) -> Option<Box<Socket>> {
        self.open_plan()?.socket(id).cloned().map(Box::new)
    }
}

/// The open plan.
#[derive(Clone, PartialEq)]
pub struct OpenPlan {
    /// Its key.
    pub key: PlanKey,
    /// As it is now.
    pub plan: Shared<Plan>,
}

/// Whether another window edits the open plan.
#[derive(Clone, Copy, Default, PartialEq)]
pub struct Follows(pub bool);

/// Whether something is being typed that is not in its plan yet.
#[derive(Clone, Copy, Default, PartialEq)]
pub struct Typing(pub bool);

/// What undo and redo would do.
#[derive(Clone, Copy, Default, PartialEq)]
pub struct HistoryWords {
    /// What undo takes back.
    pub undo: Option<&'static str>,
    /// What redo does again.
    pub redo: Option<&'static str>,
}

/// Props of [`StoreProvider`].
#[derive(PartialEq, Properties)]
pub struct StoreProviderProps {
    /// The plans at the start, read once.
    pub start: Shared<AppState>,
    /// Who may read it.
    pub children: Html,
}

/// Holds the store and provides it.
#[component]
pub fn StoreProvider(props: &StoreProviderProps) -> Html {
    let start = props.start.clone();
    let handle = use_reducer(move || (*start).clone());
    let state = &*handle;
    let track = state.track();
    let plan = track.zip(state.open.clone()).map(|(track, key)| OpenPlan {
        key,
        plan: track.plan.clone(),
    });
    let words = track.map(|t| HistoryWords {
        undo: t.history.undo_label(),
        redo: t.history.redo_label(),
    });
    html! {
        <ContextProvider<Store> context={Store(handle.clone())}>
        <ContextProvider<Shared<Shelf>> context={state.shelf.clone()}>
        <ContextProvider<Option<OpenPlan>> context={plan}>
        <ContextProvider<HistoryWords> context={words.unwrap_or_default()}>
        <ContextProvider<SaveState> context={state.save.worse(&state.typing).clone()}>
        <ContextProvider<Typing> context={Typing(state.typing != SaveState::Idle)}>
        <ContextProvider<Follows> context={Follows(state.follows)}>
        <ContextProvider<Option<Notice>> context={state.notice.clone()}>
            { props.children.clone() }
        </ContextProvider<Option<Notice>>>
        </ContextProvider<Follows>>
        </ContextProvider<Typing>>
        </ContextProvider<SaveState>>
        </ContextProvider<HistoryWords>>
        </ContextProvider<Option<OpenPlan>>>
        </ContextProvider<Shared<Shelf>>>
        </ContextProvider<Store>>
    }
}

/// The store, for reading at the moment of an event and for changing it.
///
/// # Panics
/// Outside [`StoreProvider`], which is a fault of the program: the app puts it around everything.
#[hook]
#[expect(
    clippy::expect_used,
    reason = "a component outside the provider is a fault of the program"
)]
pub fn use_store() -> Store {
    use_context::<Store>().expect("StoreProvider surrounds the app")
}

/// The open plan.
#[hook]
pub fn use_plan() -> Option<OpenPlan> {
    use_context::<Option<OpenPlan>>().flatten()
}

/// All plans.
#[hook]
pub fn use_shelf() -> Shared<Shelf> {
    use_context::<Shared<Shelf>>().unwrap_or_default()
}

/// What undo and redo would do.
#[hook]
pub fn use_history() -> HistoryWords {
    use_context::<HistoryWords>().unwrap_or_default()
}

/// How the keeping goes, of what is being typed too.
#[hook]
pub fn use_save_state() -> SaveState {
    use_context::<SaveState>().unwrap_or_default()
}

/// Whether something is being typed that is not in its plan yet.
#[hook]
pub fn use_typing() -> bool {
    use_context::<Typing>().unwrap_or_default().0
}

/// Whether another window edits the open plan.
#[hook]
pub fn use_follows() -> bool {
    use_context::<Follows>().unwrap_or_default().0
}

/// What the reader is told.
#[hook]
pub fn use_notice() -> Option<Notice> {
    use_context::<Option<Notice>>().flatten()
}
