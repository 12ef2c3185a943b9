//! The screens, as plain functions: `fn show(ui: &mut egui::Ui, model: &Model) -> Option<Action>`. They
//! know no Bevy, so that they are tested without a graphics card.
