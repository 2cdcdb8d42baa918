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

    /// The same leaf with another weight, spread in the same way; one that weighs nothing stays as it is.
    pub fn weighing(mut self, weight: f64) -> Leaf {
        let own = self.weight();
        if own <= 0.0 {
            return self;
        }
        let factor = weight / own;
        self.segments.iter_mut().for_each(|part| part.load *= factor);
        self.items.iter_mut().for_each(|[weight, _]| *weight *= factor);
        self
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

    /// The drop of the leading edge from bending, times the stiffness of an even beam (a volume of force): what each
    /// weight adds by where it lies, summed.
    pub fn drop_by_bending(&self, carriages: Carriages) -> f64 {
        let tail = carriages.front + carriages.spacing;
        let even: f64 = self
            .segments
            .iter()
            .map(|part| {
                let cuts = [part.from, carriages.front, tail, part.to].map(|at| at.max(part.from).min(part.to));
                cuts.windows(2).map(|ends| part.load * summed_influence(ends[0], ends[1], carriages)).sum::<f64>()
            })
            .sum();
        even + self.items.iter().map(|[weight, at]| weight * influence(*at, carriages)).sum::<f64>()
    }

    /// What the part before a section weighs, less what the carriages under it carry: positive where that part hangs on
    /// the rest.
    pub fn shear(&self, section: f64, carriages: Carriages) -> f64 {
        let [front, tail] = self.reactions(carriages);
        let carried = |at: f64, reaction: f64| if at < section { reaction } else { 0.0 };
        self.before(section) - carried(carriages.front, front) - carried(carriages.front + carriages.spacing, tail)
    }
}

/// What a unit weight adds to the drop of the leading edge from bending, times the stiffness: before the front carriage
/// it bends the overhang and turns the beam there, between the carriages it turns it back, behind the tail carriage it
/// turns it again. Reciprocity: the bending line of the beam under a unit load at the leading edge.
fn influence(at: f64, Carriages { front, spacing }: Carriages) -> f64 {
    if at <= front {
        let lever = front - at;
        lever * lever * (2.0 * front + at) / 6.0 + front * lever * spacing / 3.0
    } else if at <= front + spacing {
        let behind = at - front;
        -front * behind * (spacing - behind) * (2.0 * spacing - behind) / (6.0 * spacing)
    } else {
        (at - front - spacing) * spacing * front / 6.0
    }
}

/// The influence summed over a length that no carriage stands in. It is a cubic there, for which Simpson's rule is exact.
fn summed_influence(from: f64, to: f64, carriages: Carriages) -> f64 {
    let at = |place: f64| influence(place, carriages);
    (to - from) * (at(from) + 4.0 * at(f64::midpoint(from, to)) + at(to)) / 6.0
}
