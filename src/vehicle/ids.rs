//! Indices into a vehicle's tables.
//!
//! Each kind of thing has its own index type, so that a conductor can never be taken for a connector. Names are
//! looked up once, where text is read; everything below works with indices.

macro_rules! ids {
    ($($(#[$doc:meta])* $name:ident),* $(,)?) => {$(
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(pub u16);

        impl $name {
            /// The position in the vehicle's table.
            #[must_use]
            pub fn index(self) -> usize {
                usize::from(self.0)
            }

            /// The index of the table's entry at `position`.
            ///
            /// Tables are built from files whose size is bounded far below 65,536 entries.
            #[must_use]
            pub fn at(position: usize) -> Self {
                Self(u16::try_from(position).unwrap_or(u16::MAX))
            }
        }
    )*};
}

ids! {
    /// A panel, trim or seat that has to come off or fold before something can be reached.
    PanelId,
    /// A place on the loom that can be reached, flexed and opened.
    StationId,
    /// A connector: two halves that mate.
    ConnectorId,
    /// A wire from one end to another, through stations.
    ConductorId,
    /// A fuse slot.
    FuseId,
    /// A bolt on the body that ring terminals sit on.
    StudId,
    /// A ring terminal, in which one or more conductors end.
    EyeletId,
    /// A joint inside the loom that no lead can reach.
    SpliceId,
    /// A lamp, switch, latch, module: anything that is bought as one piece.
    PartId,
}
