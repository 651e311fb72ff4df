//! What happens at each joint: facing sites, gap stacks, forces, poles, hold margins, first choice of magnets.
