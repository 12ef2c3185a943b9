mod common;
use chockline::domain::math::{GRAVITY_M_PER_S2 as G, *};
use chockline::sim::world::*;
use chockline::sim::Vector;
use common::*;
#[test]
fn diag() {
    let p = pipe_36(); let r = p.radius_m(); let k = p.shape_factor();
    for (hr, run_m, pitch) in [(0.15, 1.5, 2.7), (0.4, 3.0, 5.1)] {
    for dt in [1.0/240.0, 1.0/960.0] {
    let h = hr*r; let theta = rad(pitch);
    let mut w = World::new(settings(dt));
    add_rails(&mut w, theta, touching(0.6));
    let reach = (r*r-(r-h)*(r-h)).sqrt();
    add_stops(&mut w, theta, reach, h, touching(0.6));
    let id = w.add_stick(&p, on_slope(theta, -run_m, r, 0.3));
    let along = Vector::new(cos(theta) as f32, -sin(theta) as f32, 0.0);
    let up = Vector::new(sin(theta) as f32, cos(theta) as f32, 0.0);
    let mut hit = 0;
    let e0 = w.energy_j();
    let v_arr = (2.0*G*sin(theta)/(1.0+k)*run_m).sqrt();
    println!("dt {dt} expected arrival {v_arr:.4} after {:.4}", v_arr*(1.0-h/((1.0+k)*r)));
    for i in 0..(20.0/dt) as usize {
        w.step();
        let s = w.stick(id);
        let x = s.pose.translation.dot(along);
        if x > -0.01 { hit += 1;
            let f = w.force_on_part(PartId(2));
            let fr = w.force_on_part(PartId(0));
            if hit < 14 || (hit % 10 == 0 && hit < 200) { println!("{i} x {x:.4} y {:.5} v {:.4} wr {:.4} vy {:.4} E/m {:.5} Fstop {:.0} {:.0} Frail {:.0} {:.0}", s.pose.translation.dot(up)-r as f32, s.velocity.dot(along), s.spin.z*r as f32, s.velocity.dot(up), (w.energy_j()-e0)/p.mass_kg(), f.dot(along), f.dot(up), fr.dot(along), fr.dot(up)); }
        }
    }
    }}
}
