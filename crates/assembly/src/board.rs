//! The plan by index: parts, sockets, the distinct joints that its variants ask for, and the choices of every cell.

use std::collections::BTreeMap;

use lodewright_kit::{
    Body, CheckedPlan, Frame, Ix, Part, PartId, PartIx, Plug, PlugIx, Pose, Seat, Socket, SocketIx,
    Table, VariantIx, index_type,
};

index_type! {
    /// A joint of the board.
    pub JointIx of Joint;
}

/// One part by one plug in one pose in one socket.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Joint {
    /// The socket.
    pub socket: SocketIx,
    /// The part that sits there.
    pub part: PartIx,
    /// Its plug.
    pub plug: PlugIx,
    /// Pose, with the turn from 0 up to below 360 degrees.
    pub pose: Pose,
}

/// A plan prepared for questions about what sits where. Every index in it is in range.
#[derive(Clone, Debug)]
pub struct Board {
    /// The plan.
    pub plan: CheckedPlan,
    /// The distinct joints, in the order of sockets, then variants, then seats.
    pub joints: Vec<Joint>,
    base: PartIx,
    bodies: Table<PartIx, Body>,
    hosts: Table<SocketIx, PartIx>,
    /// The choices; `None` is an empty socket.
    choices: Table<VariantIx, Table<SocketIx, Vec<Option<JointIx>>>>,
    /// The sockets that a part carries.
    carried: Table<PartIx, Vec<SocketIx>>,
}

impl Board {
    /// Lays a plan out.
    ///
    /// ```
    /// use lodewright_assembly::{Board, JointIx};
    /// use lodewright_kit::{Cell, CheckedPlan, Ix, Part, PartId, Plan, Seat, Socket, SocketId, Variant, VariantId};
    /// let mut plan = Plan::empty("Tug");
    /// for name in ["mast", "crane"] {
    ///     plan.parts.push(Part::plain(PartId::new(name), name.to_uppercase()));
    /// }
    /// plan.sockets.push(Socket::plain(SocketId::new("deck"), "Deck".into(), plan.base.clone()));
    /// let seats = ["mast", "crane"].map(|p| Seat::straight(PartId::new(p)));
    /// let cell = Cell { socket: SocketId::new("deck"), seats: seats.to_vec(), may_be_empty: false };
    /// plan.variants.push(Variant { id: VariantId::new("v"), name: "At sea".into(), cells: vec![cell] });
    /// let board = Board::of(CheckedPlan::of(plan).map_err(|p| p[0].to_string())?);
    /// assert_eq!(board.plan.parts[board.joints[JointIx::new(1)].part].name, "CRANE");
    /// assert_eq!(board.model_counts().all, Some(2u8.into()));
    /// # Ok::<(), String>(())
    /// ```
    pub fn of(plan: CheckedPlan) -> Self {
        let parts: BTreeMap<&PartId, PartIx> = PartIx::each(&plan.parts)
            .map(|(ix, p)| (&p.id, ix))
            .collect();
        // A checked plan holds every part that it names.
        let index = |id: &PartId| {
            let found = parts.get(id).copied();
            found.unwrap_or_else(|| PartIx::new(0))
        };
        let base = index(&plan.base);
        let hosts = Table::<SocketIx, _>::of(&plan.sockets, |_, s| index(&s.host));
        let mut carried = Table::<PartIx, _>::of(&plan.parts, |_, _| Vec::new());
        for (socket, host) in hosts.iter() {
            carried[*host].push(socket);
        }
        let mut board = Self {
            plan: plan.clone(),
            joints: Vec::new(),
            base,
            bodies: Table::of(&plan.parts, |_, p: &Part| p.body()),
            hosts,
            choices: Table::default(),
            carried,
        };
        board.choices = Table::of(&plan.variants, |_, _| {
            Table::of(&plan.sockets, |_, _| vec![None])
        });
        let cells: Vec<BTreeMap<_, _>> = plan
            .variants
            .iter()
            .map(|v| v.cells.iter().map(|c| (&c.socket, c)).collect())
            .collect();
        for (s, socket) in SocketIx::each(&plan.sockets) {
            let mut known = BTreeMap::new();
            for v in VariantIx::all(&plan.variants) {
                let Some(cell) = cells[v.get()].get(&socket.id) else {
                    continue;
                };
                let mut list = Vec::new();
                for seat in &cell.seats {
                    let Some(joint) = joint(&plan, s, index(&seat.part), seat) else {
                        continue;
                    };
                    let turn = joint.pose.turn_deg.to_bits();
                    let key = (joint.part, joint.plug, turn, joint.pose.over);
                    let at = *known.entry(key).or_insert(JointIx::new(board.joints.len()));
                    if at.get() == board.joints.len() {
                        board.joints.push(joint);
                    }
                    if !list.contains(&Some(at)) {
                        list.push(Some(at));
                    }
                }
                if cell.may_be_empty || list.is_empty() {
                    list.push(None);
                }
                board.choices[v][s] = list;
            }
        }
        board
    }

    /// The base part.
    pub fn base(&self) -> PartIx {
        self.base
    }

    /// Where a joint stands among those that the variants ask for.
    pub fn find(&self, joint: &Joint) -> Option<JointIx> {
        let first = self.joints.partition_point(|j| j.socket < joint.socket);
        let mut here = self.joints[first..].iter();
        let at = here.position(|j| j == joint || j.socket != joint.socket)?;
        Some(JointIx::new(first + at)).filter(|j| self.joints[*j] == *joint)
    }

    /// All joints, in order.
    pub fn all_joints(&self) -> impl DoubleEndedIterator<Item = JointIx> + Clone + use<> {
        JointIx::all(&self.joints)
    }

    /// A part.
    pub fn part(&self, part: PartIx) -> &Part {
        &self.plan.parts[part]
    }

    /// A part as a solid.
    pub fn body(&self, part: PartIx) -> &Body {
        &self.bodies[part]
    }

    /// A socket.
    pub fn socket(&self, socket: SocketIx) -> &Socket {
        &self.plan.sockets[socket]
    }

    /// The plug of a joint.
    pub fn plug(&self, joint: JointIx) -> &Plug {
        let j = self.joints[joint];
        &self.plan.parts[j.part].plugs[j.plug]
    }

    /// The part that carries a socket.
    pub fn host(&self, socket: SocketIx) -> PartIx {
        self.hosts[socket]
    }

    /// The sockets that a part carries.
    pub fn carried(&self, part: PartIx) -> &[SocketIx] {
        &self.carried[part]
    }

    /// What one variant allows in one socket; `None` is nothing. A variant that the plan does not have allows nothing at
    /// all, not even that.
    pub fn choices(&self, variant: VariantIx, socket: SocketIx) -> &[Option<JointIx>] {
        match self.choices.values().get(variant.get()) {
            Some(cells) => &cells[socket],
            None => &[],
        }
    }

    /// All that a variant allows, socket by socket: equal where two variants allow the same.
    pub(crate) fn cells(&self, variant: VariantIx) -> Vec<&[Option<JointIx>]> {
        let sockets = SocketIx::all(&self.plan.sockets);
        sockets.map(|s| self.choices(variant, s)).collect()
    }

    /// Axes of a joint's part as seen from its host's.
    pub fn part_on_host(&self, joint: JointIx) -> Frame {
        let j = self.joints[joint];
        let socket = self.socket(j.socket);
        let plug = self.plug(joint);
        let seat = socket.frame(self.part(self.hosts[j.socket]));
        let mut posed = seat.turned(j.pose.turn_deg);
        if j.pose.over {
            let part = self.part(j.part);
            posed = posed.turned_over(part.plug_thickness_mm(plug, socket.facing));
        }
        self.part(j.part)
            .plug_frame(plug, socket.facing)
            .inverse()
            .within(&posed)
    }
}

/// The joint that a seat asks for.
fn joint(plan: &CheckedPlan, socket: SocketIx, part: PartIx, seat: &Seat) -> Option<Joint> {
    let plug = match &seat.plug {
        Some(id) => PlugIx::find(&plan.parts[part].plugs, |p| p.id == *id)?,
        None => PlugIx::new(0),
    };
    let turn_deg = match seat.pose.turn_deg.rem_euclid(360.0) {
        // -1e-20 wraps to 360 itself, and -0 is 0.
        360.0 => 0.0,
        t => t.abs(),
    };
    let pose = Pose {
        turn_deg,
        over: seat.pose.over,
    };
    Some(Joint {
        socket,
        part,
        plug,
        pose,
    })
}
