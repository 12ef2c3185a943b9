mod common;
use chockline::operator::*; use chockline::sim::line::*; use chockline::domain::rig::End; use chockline::domain::spec::*; use common::lines;
#[test] fn dbg(){
 let mut spec=lines::first_release();
 if let Ok(n)=std::env::var("N"){ let n:usize=n.parse().unwrap(); spec=lines::line(spec.sticks[0].pipe,n,5.0,EscapementKind::PinPair);}
 spec.machine.joint_time_s=20.0;
 let mut line=Line::build(&spec); let mut ex=Expert::default();
 let t=std::time::Instant::now(); let mut n=0;
 let e=run(&mut line,&mut ex,std::env::var("T").map(|t|t.parse().unwrap()).unwrap_or(120.0),|l,c|{ while n<l.events().len(){println!("{:8.2} {:?}",l.time_s(),l.events()[n]);n+=1;}
  if l.tick_count()%480==0{ let s=l.sticks().next().unwrap(); let f=l.front_end(s); println!("{:8.2} held {:?} place {:?} y {:.4} x {:.4} tilt {:.4} off {:.4} {:.4} gap {:.4} raised {:.3} {:.3} low {:.3} load {:.0} {:.0} long {:.3} jaws {:?}",l.time_s(),c.held.iter().collect::<Vec<_>>(),l.place(s),l.stick(s).pose.translation.y,l.stick(s).pose.translation.x,l.tilt_rad(s),f.off.x_m,f.off.y_m,f.gap_m,l.raised_m(End::Near),l.raised_m(End::Far),l.receiver_lowered_m(),l.cradle_load_n(End::Near),l.cradle_load_n(End::Far),l.long_axis_off_rad(s),l.jaws());}
 });
 println!("{:?} {} s in {:?}",e,line.time_s(),t.elapsed());
}
