//! The plan by index: parts, sockets, the distinct joints that its variants ask for, and the choices of every cell.

use std::fmt;
use std::rc::Rc;

use lodewright_kit::{Frame, Part, PartId, Plan, Plug, Pose, Seat, Severity, Socket};

/// One part by one plug in one pose in one socket.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Joint {
    /// Index of the socket.
    pub socket: usize,
    /// Index of the part that sits there.
    pub part: usize,
    /// Index of its plug.
    pub plug: usize,
    /// Pose, with the turn from 0 up to below 360 degrees.
    pub pose: Pose,
}

/// A plan prepared for questions about what sits where. Every index in it is in range.
#[derive(Clone, Debug)]
pub struct Board {
    /// The plan.
    pub plan: Rc<Plan>,
    /// The distinct joints, in the order of sockets, then variants, then seats.
    pub joints: Vec<Joint>,
    base: usize,
    hosts: Vec<usize>,
    /// `[variant][socket]`: the choices; `None` is an empty socket.
    choices: Vec<Vec<Vec<Option<usize>>>>,
    /// `[part]`: the sockets it carries.
    carried: Vec<Vec<usize>>,
}

/// The plan cannot be laid out.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BoardError {
    /// What is wrong, where, and what to do.
    pub said: String,
}

impl fmt::Display for BoardError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.said)
    }
}

impl std::error::Error for BoardError {}

impl Board {
    /// Lays a plan out.
    ///
    /// # Errors
    /// The first problem that a file with this plan would be refused for.
    pub fn of(plan: Rc<Plan>) -> Result<Self, BoardError> {
        if let Some(problem) = plan
            .problems()
            .into_iter()
            .find(|p| p.severity == Severity::Refused)
        {
            return Err(BoardError {
                said: problem.to_string(),
            });
        }
        let index = |id: &PartId| plan.parts.iter().position(|p| p.id == *id);
        let lost = || BoardError {
            said: "The plan names a part that it does not hold. Open the file again.".into(),
        };
        let base = index(&plan.base).ok_or_else(lost)?;
        let hosts = plan
            .sockets
            .iter()
            .map(|s| index(&s.host).ok_or_else(lost))
            .collect::<Result<Vec<_>, _>>()?;
        let mut carried = vec![Vec::new(); plan.parts.len()];
        for (socket, host) in hosts.iter().enumerate() {
            carried[*host].push(socket);
        }
        let mut board = Self {
            plan: Rc::clone(&plan),
            joints: Vec::new(),
            base,
            hosts,
            choices: Vec::new(),
            carried,
        };
        board.choices = vec![vec![vec![None]; plan.sockets.len()]; plan.variants.len()];
        for (s, socket) in plan.sockets.iter().enumerate() {
            for (v, variant) in plan.variants.iter().enumerate() {
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
        Ok(board)
    }

    fn joint_of(&mut self, socket: usize, seat: &Seat) -> Option<usize> {
        let part = self.plan.parts.iter().position(|p| p.id == seat.part)?;
        let plug = match &seat.plug {
            Some(id) => self.plan.parts[part]
                .plugs
                .iter()
                .position(|p| p.id == *id)?,
            None => 0,
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
        let known = self.joints.iter().position(|j| *j == joint);
        Some(known.unwrap_or_else(|| {
            self.joints.push(joint);
            self.joints.len() - 1
        }))
    }

    /// Index of the base part.
    pub fn base(&self) -> usize {
        self.base
    }

    /// Number of parts, sockets and variants.
    pub fn counts(&self) -> (usize, usize, usize) {
        (
            self.plan.parts.len(),
            self.plan.sockets.len(),
            self.plan.variants.len(),
        )
    }

    /// A part by index.
    pub fn part(&self, part: usize) -> &Part {
        &self.plan.parts[part]
    }

    /// A socket by index.
    pub fn socket(&self, socket: usize) -> &Socket {
        &self.plan.sockets[socket]
    }

    /// The plug of a joint.
    pub fn plug(&self, joint: usize) -> &Plug {
        let j = self.joints[joint];
        &self.plan.parts[j.part].plugs[j.plug]
    }

    /// Index of the part that carries a socket.
    pub fn host(&self, socket: usize) -> usize {
        self.hosts[socket]
    }

    /// The sockets that a part carries.
    pub fn carried(&self, part: usize) -> &[usize] {
        &self.carried[part]
    }

    /// What one variant allows in one socket; `None` is nothing.
    pub fn choices(&self, variant: usize, socket: usize) -> &[Option<usize>] {
        &self.choices[variant][socket]
    }

    /// Axes of a joint's part as seen from its host's.
    pub fn part_on_host(&self, joint: usize) -> Frame {
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

    /// A joint in words: part, socket and pose.
    pub fn words(&self, joint: usize) -> String {
        let j = self.joints[joint];
        let (part, socket) = (&self.part(j.part).name, &self.socket(j.socket).name);
        let plug = match (j.plug, self.part(j.part).plugs.len()) {
            (_, ..=1) => String::new(),
            _ => format!(" by its plug '{}'", self.plug(joint).id),
        };
        let turn = if j.pose.turn_deg == 0.0 {
            String::new()
        } else {
            format!(" turned {}°", j.pose.turn_deg)
        };
        let over = if j.pose.over { " turned over" } else { "" };
        format!("{part} in {socket}{plug}{turn}{over}")
    }
}
