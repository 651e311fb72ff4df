//! The plan by index: parts, sockets, the distinct joints that its variants ask for, and the choices of every cell.

use lodewright_kit::{
    CheckedPlan, Frame, Ix, Part, PartId, PartIx, Plug, PlugIx, Pose, Seat, Socket, SocketIx,
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
    hosts: Table<SocketIx, PartIx>,
    /// The choices; `None` is an empty socket.
    choices: Table<VariantIx, Table<SocketIx, Vec<Option<JointIx>>>>,
    /// The sockets that a part carries.
    carried: Table<PartIx, Vec<SocketIx>>,
}

impl Board {
    /// Lays a plan out.
    pub fn of(plan: CheckedPlan) -> Self {
        // A checked plan holds every part that it names.
        let index = |id: &PartId| {
            PartIx::find(&plan.parts, |p| p.id == *id).unwrap_or_else(|| PartIx::new(0))
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
            hosts,
            choices: Table::default(),
            carried,
        };
        board.choices = Table::of(&plan.variants, |_, _| {
            Table::of(&plan.sockets, |_, _| vec![None])
        });
        for (s, socket) in SocketIx::each(&plan.sockets) {
            for (v, variant) in VariantIx::each(&plan.variants) {
                let Some(cell) = variant.cell(&socket.id) else {
                    continue;
                };
                let mut list: Vec<_> = cell
                    .seats
                    .iter()
                    .filter_map(|seat| board.joint_of(s, seat))
                    .map(Some)
                    .collect();
                list.dedup();
                if cell.may_be_empty || list.is_empty() {
                    list.push(None);
                }
                board.choices[v][s] = list;
            }
        }
        board
    }

    fn joint_of(&mut self, socket: SocketIx, seat: &Seat) -> Option<JointIx> {
        let part = PartIx::find(&self.plan.parts, |p| p.id == seat.part)?;
        let plug = match &seat.plug {
            Some(id) => PlugIx::find(&self.plan.parts[part].plugs, |p| p.id == *id)?,
            None => PlugIx::new(0),
        };
        let turn_deg = match seat.pose.turn_deg.rem_euclid(360.0) {
            // -1e-20 wraps to 360 itself.
            360.0 => 0.0,
            t => t,
        };
        let joint = Joint {
            socket,
            part,
            plug,
            pose: Pose {
                turn_deg,
                over: seat.pose.over,
            },
        };
        Some(self.find(&joint).unwrap_or_else(|| {
            self.joints.push(joint);
            JointIx::new(self.joints.len() - 1)
        }))
    }

    /// The base part.
    pub fn base(&self) -> PartIx {
        self.base
    }

    /// Where a joint stands among those that the variants ask for.
    pub fn find(&self, joint: &Joint) -> Option<JointIx> {
        JointIx::find(&self.joints, |j| j == joint)
    }

    /// All joints, in order.
    pub fn all_joints(&self) -> impl DoubleEndedIterator<Item = JointIx> + Clone + use<> {
        JointIx::all(&self.joints)
    }

    /// A part.
    pub fn part(&self, part: PartIx) -> &Part {
        &self.plan.parts[part]
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

    /// What one variant allows in one socket; `None` is nothing.
    pub fn choices(&self, variant: VariantIx, socket: SocketIx) -> &[Option<JointIx>] {
        &self.choices[variant][socket]
    }

    /// Axes of a joint's part as seen from its host's.
    pub fn part_on_host(&self, joint: JointIx) -> Frame {
        let j = self.joints[joint];
        let socket = self.socket(j.socket);
        let plug = self.plug(joint);
        let seat = socket.frame(self.part(self.hosts[j.socket]));
        let mut posed = seat.turned(j.pose.turn_deg);
        if j.pose.over {
            posed = posed.turned_over(plug.thickness_mm.unwrap_or(0.0));
        }
        self.part(j.part)
            .plug_frame(plug, socket.facing)
            .inverse()
            .within(&posed)
    }
}
