//! Starts the page.

fn main() {
    evenfeed_web::start();
}
