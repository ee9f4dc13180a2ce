use super::sentence::{Kind, Refusal, Standing, frame, looks_like_one};

#[test]
fn other_talkers_and_multi_constellation_fixes_are_read() {
    // GNS as in public descriptions of the sentence, where the printed checksum (6A) does not fit; this one does
    let read =
        frame(b"$GPGNS,224749.00,3333.4268304,N,11153.3538273,W,D,19,0.6,406.110,-26.294,6.0,0138,S,*46")
            .unwrap();
    let sentence = read.read().unwrap();
    assert_eq!((sentence.kind, sentence.standing, sentence.hdop), (Kind::Gns, Standing::Good, Some(0.6)));
    assert!((sentence.position.unwrap().longitude().degrees() + (111.0 + 53.353_827_3 / 60.0)).abs() < 1e-12);
}

#[test]
fn lines_that_are_no_sentences() {
    assert_eq!(frame(b"hello").unwrap_err(), Refusal::NotOurs);
    assert_eq!(frame(b"$PGRME,1*00").unwrap().read().unwrap_err(), Refusal::NotOurs);
    assert!(matches!(frame(b"$GPGGA,1*G7").unwrap_err(), Refusal::Damaged(_)));
    assert!(matches!(frame(b"$").unwrap().read().unwrap_err(), Refusal::Damaged(_)));
    assert!(looks_like_one(b"2026 $GPGGA,1") && !looks_like_one(b"cost $5,10") && !looks_like_one(b""));
}
