//! The focus stays near where it was when what had it goes or is switched off, and never falls to the page.

use std::cell::RefCell;
use std::rc::Rc;

use gloo::events::EventListener;
use gloo::utils::document;
use wasm_bindgen::JsCast;
use wasm_bindgen::prelude::Closure;
use web_sys::{Element, FocusOptions, HtmlElement, MutationObserver, MutationObserverInit};
use yew::prelude::*;

/// What may be handed the focus. No text fields: on a tablet they would call up the keyboard.
const TAKES: &str = "button:not([disabled]), a[href], summary, select:not([disabled]), input[type=checkbox]:not([disabled]), \
    input[type=radio]:not([disabled]), [tabindex='0']";
/// The search for a neighbour ends here.
const BOUNDS: &str = "main, header, nav, .notices, #app";
/// So many places are gone back to.
const BEFORE: usize = 8;

/// Where the focus is: the element with its ancestors, each with its place among its siblings, the innermost first.
type Way = Vec<(Element, usize)>;

#[derive(Default)]
struct Keeper {
    way: Way,
    before: Vec<Element>,
}

/// Shows nothing.
#[component]
pub fn FocusKeeper() -> Html {
    use_effect_with((), |()| {
        let keeper = Rc::new(RefCell::new(Keeper::default()));
        let watching = keep(&keeper);
        move || drop(watching)
    });
    Html::default()
}

fn keep(keeper: &Rc<RefCell<Keeper>>) -> impl Sized + use<> {
    let noting = Rc::clone(keeper);
    let listener = EventListener::new(&document(), "focusin", move |event| {
        let target = event.target().and_then(|t| t.dyn_into::<Element>().ok());
        if let Some(element) = target {
            noting.borrow_mut().note(element);
        }
    });
    let mending = Rc::clone(keeper);
    let changed = Closure::<dyn Fn()>::new(move || {
        let next = {
            let keeper = mending.borrow();
            keeper.is_lost().then(|| keeper.next()).flatten()
        };
        // Let go of by now: handing the focus on is noted at once.
        if let Some(next) = next {
            hand_to(&next);
        }
    });
    let observer = MutationObserver::new(changed.as_ref().unchecked_ref()).ok();
    if let Some(observer) = &observer {
        let what = MutationObserverInit::new();
        what.set_child_list(true);
        what.set_subtree(true);
        what.set_attribute_filter(&js_sys::Array::of1(&"disabled".into()));
        // A page that cannot be watched is used as before.
        let _ = observer.observe_with_options(&document(), &what);
    }
    (listener, changed, observer)
}

impl Keeper {
    fn note(&mut self, element: Element) {
        if let Some((old, _)) = self.way.first() {
            self.before.push(old.clone());
            let extra = self.before.len().saturating_sub(BEFORE);
            self.before.drain(..extra);
        }
        self.way = std::iter::successors(Some(element), |e| e.parent_element())
            .map(|e| {
                let before = std::iter::successors(e.previous_element_sibling(), |s| {
                    s.previous_element_sibling()
                });
                let n = before.count();
                (e, n)
            })
            .collect();
    }

    /// Whether the page has the focus because what had it is gone or switched off.
    fn is_lost(&self) -> bool {
        let Some((element, _)) = self.way.first() else {
            return false;
        };
        let gone = !element.is_connected() || element.has_attribute("disabled");
        // Some browsers leave a control that was switched off the focus until they draw.
        gone && document()
            .active_element()
            .is_none_or(|a| a == *element || a.tag_name() == "BODY")
    }

    /// The nearest thing that takes it: beside what is gone, else where the focus was before, else the page's main part.
    fn next(&self) -> Option<Element> {
        let around = self.way.iter().zip(self.way.iter().skip(1));
        let near = around
            .filter(|(_, (parent, _))| parent.is_connected())
            .take_while(|((child, _), _)| !matches(child, BOUNDS))
            .find_map(|((_, place), (parent, _))| beside(parent, *place));
        let before = || {
            let there = self.before.iter().rev();
            there
                .filter(|e| e.is_connected())
                .find(|e| matches(e, TAKES))
                .cloned()
        };
        near.or_else(before)
            .or_else(|| document().get_element_by_id("main"))
    }
}

fn matches(element: &Element, selector: &str) -> bool {
    element.matches(selector).unwrap_or(false)
}

/// What takes the focus among the children of an element, the nearest to a place first: what followed, then what came before.
fn beside(parent: &Element, place: usize) -> Option<Element> {
    let children = parent.children();
    let child = |n: usize| children.item(u32::try_from(n).ok()?);
    let count = children.length() as usize;
    (place..count)
        .chain((0..place.min(count)).rev())
        .filter_map(child)
        .find_map(|c| {
            if matches(&c, TAKES) {
                Some(c)
            } else {
                c.query_selector(TAKES).ok().flatten()
            }
        })
}

fn hand_to(element: &Element) {
    if let Some(element) = element.dyn_ref::<HtmlElement>() {
        let calmly = FocusOptions::new();
        calmly.set_prevent_scroll(true);
        // Focus only helps; a page that refuses it is still usable.
        let _ = element.focus_with_options(&calmly);
    }
}
