//! The program that the browser starts: hands over to the library, where everything is that tests can reach.

fn main() {
    lodewright_web::run();
}
