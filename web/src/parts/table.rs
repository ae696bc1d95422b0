//! A table of a few columns, with a band or a warning under a number.

use leptos::prelude::*;

/// A cell: what stands bold, what stands under it, and a warning; each may be blank.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Cell {
    /// The number.
    pub bold: String,
    /// Its band, or plain text.
    pub under: String,
    /// What to mind.
    pub warning: &'static str,
}

impl Cell {
    /// Plain text.
    pub(crate) fn plain(text: String) -> Cell {
        Cell {
            under: text,
            ..Cell::default()
        }
    }

    /// A number and its band.
    pub(crate) fn banded(bold: String, under: String) -> Cell {
        Cell {
            bold,
            under,
            warning: "",
        }
    }
}

/// The table: heads of all columns; rows by their head and their cells.
///
/// One function for every table of a screen: each kind of view is code of its own in the page.
pub(crate) fn table(heads: Vec<String>, rows: Vec<(String, Vec<Cell>)>) -> AnyView {
    let heads: Vec<_> = heads
        .into_iter()
        .map(|head| view! { <th scope="col">{head}</th> })
        .collect();
    let rows: Vec<_> = rows
        .into_iter()
        .map(|(head, cells)| {
            let cells: Vec<_> = cells
                .into_iter()
                .map(|cell| {
                    view! {
                        <td>
                            <strong>{cell.bold}</strong>
                            {cell.under}
                            <b class="warning">{cell.warning}</b>
                        </td>
                    }
                })
                .collect();
            view! {
                <tr>
                    <th scope="row">{head}</th>
                    {cells}
                </tr>
            }
        })
        .collect();
    view! {
        <table class="plain">
            <thead>
                <tr>{heads}</tr>
            </thead>
            <tbody>{rows}</tbody>
        </table>
    }
    .into_any()
}
