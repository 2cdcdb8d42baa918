//! The leaf as a beam on its two carriages: what lies along it, and moment and shear at a section.
//!
//! Positions count from the leading edge. A statically determinate beam: cutting it anywhere and summing what lies to
//! the leading side is enough. Called by the figures of weight, statics, splices and bracing.

/// An even load over a part of the leaf.
#[derive(Debug, Clone, Copy)]
pub(super) struct Segment {
    pub from: f64,
    pub to: f64,
    pub load: f64,
}

/// What lies along the leaf.
#[derive(Debug, Clone, Default)]
pub(super) struct Leaf {
    pub segments: Vec<Segment>,
    /// Weight and position of what is concentrated.
    pub items: Vec<[f64; 2]>,
}

/// Where the two carriages stand.
#[derive(Debug, Clone, Copy)]
pub(super) struct Carriages {
    pub front: f64,
    pub spacing: f64,
}

impl Leaf {
    /// The weight.
    pub fn weight(&self) -> f64 {
        let even: f64 = self.segments.iter().map(|part| part.load * (part.to - part.from)).sum();
        even + self.items.iter().map(|[weight, _]| weight).sum::<f64>()
    }

    /// Weight times distance from the leading edge, summed.
    pub fn moment(&self) -> f64 {
        let even: f64 =
            self.segments.iter().map(|part| part.load * (part.to - part.from) * (part.from + part.to) / 2.0).sum();
        even + self.items.iter().map(|[weight, at]| weight * at).sum::<f64>()
    }

    /// What lies between the leading edge and a section.
    pub fn before(&self, section: f64) -> f64 {
        self.cut(section).weight()
    }

    /// The part of the leaf before a section. What stands at the section itself counts as before it.
    fn cut(&self, section: f64) -> Leaf {
        let segments = self
            .segments
            .iter()
            .filter(|part| part.from < section)
            .map(|part| Segment { to: part.to.min(section), ..*part })
            .collect();
        Leaf { segments, items: self.items.iter().filter(|[_, at]| *at <= section).copied().collect() }
    }

    /// The moment at a section; positive pulls on the top.
    pub fn hogging(&self, section: f64, carriages: Carriages) -> f64 {
        let before = self.cut(section);
        let [front, tail] = self.reactions(carriages);
        let lever = |at: f64| (section - at).max(0.0);
        before.weight() * section
            - before.moment()
            - front * lever(carriages.front)
            - tail * lever(carriages.front + carriages.spacing)
    }

    /// The reactions of the front and the tail carriage; negative pulls the leaf down.
    pub fn reactions(&self, carriages: Carriages) -> [f64; 2] {
        let (weight, moment) = (self.weight(), self.moment());
        let tail = (moment - weight * carriages.front) / carriages.spacing;
        [weight - tail, tail]
    }

    /// What the part before a section weighs, less what the carriages under it carry: positive where that part hangs on
    /// the rest.
    pub fn shear(&self, section: f64, carriages: Carriages) -> f64 {
        let [front, tail] = self.reactions(carriages);
        let carried = |at: f64, reaction: f64| if at < section { reaction } else { 0.0 };
        self.before(section) - carried(carriages.front, front) - carried(carriages.front + carriages.spacing, tail)
    }
}
