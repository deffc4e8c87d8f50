//! Hashes and signatures against their published examples; keys and seals.

use asfound_record::*;

use crate::sample::{self, first_key, second_key};

#[test]
fn sha_256_as_fips_180_4_prints_it() {
    // The examples that NIST publishes with FIPS 180-4: one block, two blocks, a million signs; and the empty text.
    let two_blocks = b"abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq";
    for (bytes, hash) in [
        (&b"abc"[..], "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"),
        (&two_blocks[..], "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1"),
        (&vec![b'a'; 1_000_000][..], "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0"),
        (&b""[..], "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"),
    ] {
        assert_eq!(Hash::of(bytes).to_string(), hash);
        assert_eq!(Hash::from_hex(hash), Some(Hash::of(bytes)));
    }
}

#[test]
fn a_hash_has_one_written_form() {
    let hash = Hash::of(b"abc").to_string();
    assert_eq!(Hash::of(b"abc").short(), "ba7816bf");
    for text in
        ["", "ba78", &hash[1..], &hash.to_uppercase(), &format!("{hash}00"), &format!(" {}", &hash[1..])]
    {
        assert_eq!(Hash::from_hex(text), None, "{text}");
    }
}

/// RFC 8032 §7.1: secret, public, message, signature. The fourth is its test `SHA(abc)`.
const PUBLISHED: [[&str; 4]; 4] = [
    [
        "9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60",
        "d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a",
        "",
        "e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e065224901555fb8821590a33bacc61e39701cf9b46bd25bf5f0595bbe24655141438e7a100b",
    ],
    [
        "4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb",
        "3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c",
        "72",
        "92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da085ac1e43e15996e458f3613d0f11d8c387b2eaeb4302aeeb00d291612bb0c00",
    ],
    [
        "c5aa8df43f9f837bedb7442f31dcb7b166d38535076f094b85ce3a2e0b4458f7",
        "fc51cd8e6218a1a38da47ed00230f0580816ed13ba3303ac5deb911548908025",
        "af82",
        "6291d657deec24024827e69c3abe01a30ce548a284743a445e3680d7db5ac3ac18ff9b538d16f290ae67f760984dc6594a7c15e9716ed28dc027beceea1ec40a",
    ],
    [
        "833fe62409237b9d62ec77587520911e9a759cec1d19755b7da901b96dca3d42",
        "ec172b93ad5e563bf4932c70e1245034c35467ef2efd4d64ebf819683467e2bf",
        "ddaf35a193617abacc417349ae20413112e6fa4e89a97ea20a9eeee64b55d39a2192992a274fc1a836ba3c23a3feebbd454d4423643ce80e2a9ac94fa54ca49f",
        "dc2a4459e7369633a52b1bf277839a00201009a3efbf3ecb69bea2186c26b58909351fc9ac90b3ecfdfbc7c66431e0303dca179c138ac17ad9bef1177331a704",
    ],
];

#[test]
fn ed25519_as_rfc_8032_prints_it() {
    for [secret, public, message, signature] in PUBLISHED {
        let key = SigningKey::from_secret(from_hex(secret).unwrap().try_into().unwrap());
        let message = from_hex(message).unwrap();
        assert_eq!(key.public(), public);
        assert_eq!(key.sign(&message), signature);
        assert!(check_signature(public, &message, signature));
        assert!(!check_signature(public, b"other bytes", signature));
        assert!(!format!("{key:?}").contains(secret));
    }
    let [_, public, message, signature] = PUBLISHED[1];
    let message = from_hex(message).unwrap();
    assert!(!check_signature(PUBLISHED[0][1], &message, signature));
    assert!(!check_signature(public, &message, &signature.to_uppercase()));
    assert!(!check_signature(public, &message, &signature[2..]));
    assert!(!check_signature("", &message, ""));
}

#[test]
fn a_weak_key_signs_nothing() {
    // The neutral point: with it, the same signature would fit every message (RFC 8032 §5.1.7, §8.9 on small order).
    let neutral = format!("01{}", "00".repeat(31));
    let signature = format!("01{}", "00".repeat(63));
    assert!(!check_signature(&neutral, b"anything", &signature));
    let key = Key1 { public: neutral, succeeds: None, signed_by_old: None, why: String::new() };
    assert_eq!(check_succession(&[key]), [KeyFinding::NoKey { at: 0 }]);
}

#[test]
fn one_key_takes_over_from_another() {
    let third = SigningKey::from_secret([3; 32]);
    let first = succession(None, &first_key(), "first start");
    let second = succession(Some(&first_key()), &second_key(), "a new machine");
    let lost = succession_after_loss(&second.public, &third, "the disk broke");
    let keys = [first.clone(), second.clone(), lost.clone()];
    let good = [KeyFinding::First { at: 0 }, KeyFinding::Vouched { at: 1 }, KeyFinding::Unsigned { at: 2 }];
    assert_eq!(check_succession(&keys), good);
    assert_eq!(check_succession(&[]), []);

    let signed_by_another = Key1 { signed_by_old: Some(third.sign(b"x")), ..second.clone() };
    assert_eq!(check_succession(&[first.clone(), signed_by_another])[1], KeyFinding::BadSignature { at: 1 });
    assert_eq!(check_succession(&[first.clone(), lost])[1], KeyFinding::Break { at: 1 });
    assert_eq!(check_succession(&[first.clone(), first.clone()])[1], KeyFinding::Break { at: 1 });
    assert_eq!(check_succession(&[second])[0], KeyFinding::Break { at: 0 });
    let itself = succession(Some(&first_key()), &first_key(), "by mistake");
    assert_eq!(check_succession(&[first, itself])[1], KeyFinding::Break { at: 1 });
}

fn sample_seal() -> Seal1 {
    fold(&sample::frozen_chain(sample::WORKSHOP)).seals.remove(0).body
}

fn manifest() -> Manifest {
    let printed =
        |original, rendition| Printed { original: Hash::of(original), rendition: Hash::of(rendition) };
    Manifest { photographs: vec![printed(b"the picture", b"as printed")] }
}

#[test]
fn a_seal_holds_for_its_paper_its_photographs_and_its_head() {
    let seal = sample_seal();
    assert_eq!(check_seal(&seal), Ok(()));
    assert_eq!(check_sealed_paper(&seal, b"the paper"), Ok(()));
    assert_eq!(check_sealed_photographs(&seal, &manifest()), Ok(()));
    let job = sample::frozen_chain(sample::JOB);
    assert!(job.iter().any(|entry| entry.cite() == seal.head));
    let keys = fold(&sample::frozen_chain(sample::WORKSHOP)).keys;
    let keys: Vec<Key1> = keys.into_iter().map(|key| key.body).collect();
    assert_eq!(check_succession(&keys), [KeyFinding::First { at: 0 }, KeyFinding::Vouched { at: 1 }]);
    assert!(keys.iter().any(|key| key.public == seal.public));
}

#[test]
fn a_seal_does_not_hold_for_anything_else() {
    let seal = sample_seal();
    let other = Hash::of(b"other").to_string();
    let mut head = seal.head.clone();
    head.seq += 1;
    for changed in [
        Seal1 { paper: other.clone(), ..seal.clone() },
        Seal1 { photographs: other.clone(), ..seal.clone() },
        Seal1 { public: first_key().public(), ..seal.clone() },
        Seal1 { signature: first_key().sign(b"x"), ..seal.clone() },
        Seal1 { head, ..seal.clone() },
    ] {
        assert_eq!(check_seal(&changed), Err(SealFault::Signature));
    }
    let nothing = Seal1 { paper: "none".to_owned(), ..seal.clone() };
    assert_eq!(check_seal(&nothing), Err(SealFault::NoHash { field: "paper" }));
    assert!(matches!(check_sealed_paper(&seal, b"the paper, saved anew"), Err(SealFault::Paper { .. })));
    let fewer = Manifest::default();
    assert!(matches!(check_sealed_photographs(&seal, &fewer), Err(SealFault::Photographs { .. })));
}

#[test]
fn what_is_signed_is_plain_canonical_json() {
    let head = Cite { chain: "j".to_owned(), seq: 4, hash: Hash::ZERO };
    let statement = Statement { paper: Hash::of(b"abc"), head, photographs: Manifest::default().hash() };
    let (zero, abc) = (Hash::ZERO, Hash::of(b"abc"));
    let none = Hash::of(br#"{"photographs":[]}"#);
    let text = format!(
        r#"{{"head":{{"chain":"j","hash":"{zero}","seq":4}},"paper":"{abc}","photographs":"{none}"}}"#
    );
    assert_eq!(statement.canonical(), text);
}
