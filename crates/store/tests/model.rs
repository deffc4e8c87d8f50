//! The store against a model of it: a plain list of what was acknowledged. Whatever happens in between, opening again
//! finds exactly that.

mod common;

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use asfound_record::{Entry, Hash, fold};
use asfound_store::{Disk, Store, StoreError};
use common::disks::{FailingDisk, ForgetfulDisk, copy_as_it_lies};
use common::{note, photograph, withheld};
use proptest::prelude::*;

/// One thing that happens to a workshop. Numbers choose among what there is.
#[derive(Debug, Clone)]
enum Step {
    Note {
        chain: usize,
        draft: Option<usize>,
    },
    KeepPhotograph {
        picture: u8,
    },
    ShowPhotograph {
        chain: usize,
        picture: u8,
    },
    Withhold {
        chain: usize,
        entry: usize,
    },
    CloseAndOpen,
    /// The power goes: what was not synced is lost.
    PowerCut,
}

fn step() -> impl Strategy<Value = Step> {
    prop_oneof![
        4 => (0..2_usize, proptest::option::of(0..6_usize)).prop_map(|(chain, draft)| Step::Note { chain, draft }),
        2 => (0..4_u8).prop_map(|picture| Step::KeepPhotograph { picture }),
        3 => (0..2_usize, 0..4_u8).prop_map(|(chain, picture)| Step::ShowPhotograph { chain, picture }),
        2 => (0..2_usize, 0..20_usize).prop_map(|(chain, entry)| Step::Withhold { chain, entry }),
        1 => Just(Step::CloseAndOpen),
        2 => Just(Step::PowerCut),
    ]
}

const CHAINS: [&str; 2] = ["job-1", "job-2"];

fn picture(number: u8) -> Vec<u8> {
    vec![number; 1000 + usize::from(number)]
}

/// What was acknowledged.
#[derive(Default)]
struct Model {
    chains: BTreeMap<&'static str, Vec<Entry>>,
    drafts: BTreeMap<(&'static str, usize), Entry>,
    photographs: BTreeSet<Hash>,
    /// Named by a content that was withheld.
    withheld: BTreeSet<Hash>,
}

impl Model {
    fn shown(&self, hash: Hash) -> bool {
        let names = |entry: &Entry| entry.content_text().is_some_and(|text| text.contains(&hash.to_string()));
        self.chains.values().flatten().any(names)
    }

    fn withhold(&mut self, at: usize, chain: &'static str) {
        let Some(entry) = self.chains.get_mut(chain).map(|entries| &mut entries[at]) else { return };
        let text = entry.content_text().unwrap_or_default().to_owned();
        *entry = entry.without_content();
        self.withheld.extend(
            (0..4).map(|number| Hash::of(&picture(number))).filter(|hash| text.contains(&hash.to_string())),
        );
        self.clear();
    }

    /// Photographs of withheld contents that nothing shows go at each withholding and each start.
    fn clear(&mut self) {
        let gone: Vec<Hash> = self.withheld.iter().copied().filter(|hash| !self.shown(*hash)).collect();
        self.photographs.retain(|hash| !gone.contains(hash));
    }
}

/// A workshop, the disk under it, and the model of it.
struct World {
    home: tempfile::TempDir,
    place: PathBuf,
    disk: Arc<ForgetfulDisk>,
    store: Option<Store>,
    model: Model,
    cuts: usize,
}

impl World {
    fn new() -> World {
        let home = tempfile::tempdir().unwrap();
        let place = home.path().join("workshop");
        let disk = Arc::new(ForgetfulDisk::default());
        let store = Some(Store::start_on(&place, Arc::clone(&disk) as Arc<dyn Disk>).unwrap());
        World { home, place, disk, store, model: Model::default(), cuts: 0 }
    }

    fn store(&self) -> &Store {
        self.store.as_ref().unwrap()
    }

    fn take(&mut self, step: &Step) {
        match *step {
            Step::Note { chain, draft } => {
                let chain = CHAINS[chain];
                let id = draft.map(|draft| draft.to_string());
                let kept =
                    self.store().append(note(&format!("dust {draft:?}")), chain, id.as_deref()).unwrap();
                let known = draft.and_then(|draft| self.model.drafts.get(&(chain, draft)));
                assert_eq!(kept.repeated, known.is_some());
                match known {
                    Some(known) => assert_eq!(kept.entry.cite(), known.cite()),
                    None => {
                        draft.map(|draft| self.model.drafts.insert((chain, draft), kept.entry.clone()));
                        self.model.chains.entry(chain).or_default().push(kept.entry);
                    }
                }
            }
            Step::KeepPhotograph { picture: number } => {
                let hash = self.store().keep_photograph(&picture(number)).unwrap();
                self.model.photographs.insert(hash);
            }
            Step::ShowPhotograph { chain, picture: number } => {
                let hash = Hash::of(&picture(number));
                match self.store().append(photograph(hash, "guard"), CHAINS[chain], None) {
                    Ok(kept) => {
                        assert!(self.model.photographs.contains(&hash));
                        self.model.chains.entry(CHAINS[chain]).or_default().push(kept.entry);
                    }
                    Err(error) => {
                        assert!(matches!(error, StoreError::PhotographNotKept { .. }), "{error}");
                        assert!(!self.model.photographs.contains(&hash));
                    }
                }
            }
            Step::Withhold { chain, entry } => {
                let chain = CHAINS[chain];
                let Some(entries) = self.model.chains.get(chain) else { return };
                let at = entry % entries.len();
                let of = entries[at].cite();
                let done = self.store().withhold(&of, withheld(&of), chain, None).unwrap();
                assert!(done.unfinished.is_none());
                self.model.chains.entry(chain).or_default().push(done.appended.entry);
                self.model.withhold(at, chain);
            }
            Step::CloseAndOpen => {
                self.store = None;
                self.open();
            }
            Step::PowerCut => {
                self.cuts += 1;
                let after = self.home.path().join(format!("after-{}", self.cuts));
                copy_as_it_lies(&self.place, &after);
                self.disk.forget(&self.place, &after);
                self.store = None;
                std::fs::remove_dir_all(&self.place).unwrap();
                self.place = after;
                self.disk = Arc::new(ForgetfulDisk::default());
                self.open();
            }
        }
    }

    fn open(&mut self) {
        self.store = Some(Store::open_on(&self.place, Arc::clone(&self.disk) as Arc<dyn Disk>).unwrap());
        self.model.clear();
        self.check();
    }

    fn check(&self) {
        let store = self.store();
        for chain in CHAINS {
            let Some(entries) = self.model.chains.get(chain) else {
                assert!(matches!(store.entries(chain), Err(StoreError::UnknownChain { .. })));
                continue;
            };
            assert_eq!(&store.entries(chain).unwrap(), entries);
            assert_eq!(store.head(chain).unwrap(), entries[entries.len() - 1].after());
            assert!(*store.job(chain).unwrap() == fold(entries));
        }
        let all = self.model.chains.values().flatten();
        let notes = all.filter(|entry| entry.envelope().kind == "note/1" && entry.body().is_some()).count();
        assert_eq!(store.search("dust", 1000).unwrap().len(), notes);
        for number in 0..4 {
            let hash = Hash::of(&picture(number));
            assert_eq!(
                store.photograph(hash).is_ok(),
                self.model.photographs.contains(&hash),
                "picture {number}"
            );
        }
        assert!(store.verify().unwrap().is_whole());
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, ..ProptestConfig::default() })]

    #[test]
    fn the_store_holds_what_was_acknowledged(steps in proptest::collection::vec(step(), 1..40)) {
        let mut world = World::new();
        for step in &steps {
            world.take(step);
        }
        world.check();
    }
}

/// What is acknowledged before the disk dies at a step.
#[derive(Default)]
struct Acknowledged {
    entries: Vec<Entry>,
    photographs: Vec<Hash>,
}

fn work(store: &Store) -> Result<(), Acknowledged> {
    let mut kept = Acknowledged::default();
    for number in 0..3 {
        let Ok(hash) = store.keep_photograph(&picture(number)) else { return Err(kept) };
        kept.photographs.push(hash);
        let Ok(shown) = store.append(photograph(hash, "guard"), CHAINS[0], None) else { return Err(kept) };
        kept.entries.push(shown.entry);
        let Ok(noted) = store.append(note("dust"), CHAINS[0], None) else { return Err(kept) };
        kept.entries.push(noted.entry);
    }
    Err(kept)
}

/// The machine dies at each step of the disk in turn, and the disk forgets what was not synced.
#[test]
fn a_power_cut_at_each_step_loses_nothing_that_was_acknowledged() {
    let home = tempfile::tempdir().unwrap();
    let sound = home.path().join("sound");
    drop(Store::start(&sound).unwrap());
    let run = |name: &str, dies_at: usize| {
        let place = home.path().join(name);
        copy_as_it_lies(&sound, &place);
        let forgetful = Arc::new(ForgetfulDisk::default());
        let disk = FailingDisk::from(dies_at, std::io::ErrorKind::Other)
            .over(Arc::clone(&forgetful) as Arc<dyn Disk>);
        let disk = Arc::new(disk);
        let store = Store::open_on(&place, Arc::clone(&disk) as Arc<dyn Disk>);
        let kept = store.as_ref().map_or_else(|_| Acknowledged::default(), |store| work(store).unwrap_err());
        let after = home.path().join(format!("{name}-after"));
        copy_as_it_lies(&place, &after);
        forgetful.forget(&place, &after);
        holds(&after, &kept);
        (disk.steps(), kept.entries.len())
    };
    let (steps, entries) = run("all", usize::MAX);
    assert!(steps > 20 && entries == 6);
    for dies_at in 0..steps {
        run(&dies_at.to_string(), dies_at);
    }
}

fn holds(place: &Path, kept: &Acknowledged) {
    let store = Store::open(place).unwrap();
    let there = store.entries(CHAINS[0]).unwrap_or_default();
    assert_eq!(there, kept.entries);
    for hash in &kept.photographs {
        store.photograph(*hash).unwrap();
    }
    let report = store.verify().unwrap();
    assert!(report.is_whole(), "{report:?}");
}
