// Made from the desk's openapi.json by scripts/make-client.mjs. Do not edit.
import { call, part } from "./call";

export interface AgreedWordsShown { changed: boolean; changes: (WordChangeShown)[]; climbs: (ClimbShown)[]; house: string; hung: string; steps: (StepShown)[]; text: string; warnings: (string)[] }
export interface AlarmShown { at: string; code: string; dev: string; words: string }
export interface AnswerGiven { said: string }
export interface AnswerOnClaim { claim: string; instead?: Record<string, string>; reason?: string; verdict: "holds" | "does_not_hold" | "cannot_say" }
export interface AnswerShown { answers: (ClaimAnswered)[]; outcome: string; reasons: (string)[]; rule: (string)[]; then: "settled" | "talk" | "refer" | "waiting"; triggers: (string)[] }
export interface AppealDecided { members: (string)[]; outcome: "accept" | "relabel" | "remove"; reasons: (string)[] }
export interface AppealLine { decided: string; grounds: string; number: string; object: string; stand: string; words: string }
export interface AppealLodged { evidence?: (string)[]; words: string }
export interface AppealShown { asked_changes: (WordChangeShown)[]; claims: (string)[]; clashes: (string)[]; clause: string; clauses: (string)[]; decided: string; evidence: (EvidenceLine)[]; late: string; like_cases: (string)[]; lodged: string; may: ("lodge" | "vote" | "count" | "decide")[]; may_hear: (string)[]; names: Record<string, string>; needed: number; number: string; object: string; outcome: string; own_sealed: boolean; readings: (string)[]; reasons: (string)[]; round: number; rule: (string)[]; sealed: number; seen: (string)[]; short: string; stand: string; talk: (string)[]; unlike: (string)[]; until: string; why_not: (string)[]; words: string }
export interface AppealTaken { evidence?: (string)[]; late?: string; words: string }
export interface AppealView { falls?: (string)[]; outcome: "accept" | "relabel" | "remove" | "refer"; reasons?: (string)[] }
export interface ArchiveAsked { place?: string }
export interface ArchiveChecked { folder: string }
export interface ArchiveShown { folder: string; n: number; signed: boolean }
export interface AskedShown { desk_key: string; fair: string; fair_name: string; pairing: string; words: (string)[] }
export interface BackUpAsked { place: string }
export interface Ballots { ballots: (NewBallot)[] }
export interface BesideShown { at: string; n: number; what: string; why: string; words: string }
export interface BlobShown { have: number; whole: boolean }
export interface BoardCell { discipline: string; done: number; in_hand: number; questions: number; stand: string; unseen: number }
export interface BoardShown { cells: (BoardCell)[]; disciplines: (string)[]; done: number; in_hand: number; minutes_high: number | null; minutes_left: number | null; minutes_low: number | null; per_hour: number | null; questions: number; stands: (string)[]; unseen: number; window_minutes: number }
export interface BringBack { code: string; head?: string; made?: number; place: string; words: string }
export interface BroughtBack { n: number; says: string }
export interface CardClosed { how: "beside" | "written_again" | "stands" | "no_matter" | "release"; note?: string }
export interface CardShown { at: string; closed: string; dev: string; id: string; kind: string; late: string; n: number; stands: Record<string, unknown> | null; status: string; sub: string; who: string; why: string; yours: Record<string, unknown> }
export interface CardSignIn { code: string }
export interface ChangeShown { after: string; before: string; field: string; number: string; object: string }
export interface ClaimAnswered { answer: string; claim: string }
export interface ClaimShown { end: number; id: string; key: string; part: string; says: string; side: string; start: number; strength: string; words: string }
export interface ClaimSplit { cannot_say: number; claim: string; does_not_hold: number; holds: number }
export interface ClashShown { binding: boolean; claims: (string)[]; facts: (FactShown)[]; hard: boolean; id: string; sentence: string; ways_out: (string)[] }
export interface ClauseAnswerShown { answer: "met" | "broken" | "cannot_tell"; clause: string; remedy: string; sentence: string }
export interface ClauseShown { check: string; number: string; severity: number; text: string }
export interface ClimbShown { found_by: "house table" | "weighing"; look: string; minutes: number; words: string }
export interface CodeShown { code: string; qr: string; seconds: number; typed: string; url: string }
export interface ColumnShown { confidence: number; field: string; heading: string; letter: string; sheet: string; why: string }
export interface ColumnsChosen { columns: Record<string, string> }
export interface ConditionSaid { kind?: string; part?: string; reason?: string; severity?: 0 | 1 | 2 | 3 | 4 | null; term: string }
export interface ConfirmAsked { base?: string | null; second?: SecondPerson | null }
export interface ConflictDeclared { object?: string | null; reason?: string; stand?: string | null }
export interface CopiesAsked { code: string; place?: string }
export interface CopyShown { at: string; made: number; n: number }
export interface CountAsked { casting?: "relabel" | "refer" | null }
export interface CountShown { answer: AnswerShown; split: SplitShown | null; split_withheld: string; trace: (string)[] }
export interface CounterFault { claims: (string)[]; clause: string; clause_text: string; remedy: string; sentence: string; severity: number; sources: (string)[]; urgency: string }
export interface CounterLine { id: string; number: string; outcome: string; says: string; stage: "draft" | "as_hung" | "asked" | "agreed" | "printed" | "checked" | "sealed" | "superseded"; text: string; to_mend: number; worst: number | null }
export interface CounterObject { appeal: string; asked: string; asked_changes: (WordChangeShown)[]; asked_why: (string)[]; claims: (ClaimShown)[]; clauses: (string)[]; faults: (CounterFault)[]; id: string; may_agree: boolean; may_appeal: boolean; may_correct: boolean; number: string; outcome: string; papers: (PaperShown)[]; pictures: (PictureShown)[]; price: string; questions: (QuestionShown)[]; reasons: (string)[]; says: string; stage: "draft" | "as_hung" | "asked" | "agreed" | "printed" | "checked" | "sealed" | "superseded"; stand: string; suggestion: string; suggestion_changes: (WordChangeShown)[]; text: string; to_do: string; unread: (UnreadShown)[]; version: number; whereabouts: string }
export interface CounterShown { clean: number; exhibitor: string; fair: string; lines: (CounterLine)[]; lists_taken: number; objects: number; questions: (QuestionShown)[]; stand: string; to_mend: number }
export interface CounterTry { claims: (ClaimShown)[]; faults: (CounterFault)[]; text: string; unread: (UnreadShown)[] }
export interface CursorShown { after: number; from_: string; hash: string }
export interface DateSaid { best?: number | null; earliest: number; latest: number; sure?: number }
export interface DeviceShown { dev: string; epoch: string; fair: string; fair_name: string; head: HeadShown; last_digest: string; last_seq: number; name: string; now_ms: number; people: (PersonOnTablet)[]; proto: (number)[]; safe_n: number; state: "paired" | "lost" | "stolen" | "retired"; tls: boolean; who: string }
export interface Done { done: number; words: string }
export interface EntryShown { at: number | null; leaf: string; n: number; open: (Record<string, string>)[] | null; raw: string | null; status: string | null }
export interface EventGiven { open?: (OpeningGiven)[]; raw: string; sig?: string }
export interface EvidenceLine { new: boolean; words: string }
export interface FactShown { bounds: string; caveats: (string)[]; earliest: number | null; family: string; hardness: string; id: string; jurisdiction: string; latest: number | null; source: string; statement: string; use: string; verified: string; witness: string; years: string }
export interface Failure { problem: ProblemBody }
export interface FairOnMedium { copies: (CopyShown)[]; folder: string; name: string }
export interface FairShown { disciplines: (string)[]; id: string; name: string; objects: number; opens: string; panels: number; quorum: number; rulebook: string; rulebook_version: string; stands: number }
export interface FaultShown { claims: (string)[]; clause: string; clause_text: string; code: string; facts: (FactShown)[]; remedy: string; sentence: string; severity: number }
export interface Figure { amount: number; uncertainty?: number; unit?: string }
export interface FigureShown { amount: number; name: string; uncertainty: number; unit: string }
export interface FileTaken { cards: number; dev: string; fresh: number; known: number; left: number; why: string }
export interface FinalAsked { second?: SecondPerson | null }
export interface FloorObject { alarms: (string)[]; answer: AnswerShown | null; bases: Record<string, string>; beside: (BesideShown)[]; claims: (ClaimShown)[]; clashes: (ClashShown)[]; clauses: (ClauseAnswerShown)[]; clauses_of_outcome: (string)[]; date_sentence: string; disciplines: (string)[]; examination: "listed" | "presented" | "examining" | "opinions_in" | "proposed" | "confirmed" | "final" | "unlisted" | "not_found" | "not_seen" | "paper_due" | "referred" | "withdrawn" | "under_appeal" | "reopened"; exhibitor: string; faults: (FaultShown)[]; hidden: (string)[]; history: (HistoryLine)[]; holds: (HoldShown)[]; id: string; key: "" | "has" | "needs"; label_stage: "draft" | "as_hung" | "asked" | "agreed" | "printed" | "checked" | "sealed" | "superseded"; label_version: number; labels: (LabelShown)[]; may: (string)[]; may_be_shown: boolean; may_vote: string | null; mine: boolean; moves: (MoveShown)[]; n: number; number: string; observations: (ObservationShown)[]; on_label: string; on_outcome: string; outcome: string; own_ballots: (OwnBallot)[]; papers: (PaperShown)[]; pictures: (PictureShown)[]; place: string; price: string | null; raw: Record<string, string> | null; reasons: (string)[]; recused: (string)[] | null; ribbon_url: string; ribbon_words: string; round: 1 | 2; seal: string; split: SplitShown | null; stand: string; stepped_back: boolean; text: string; trade: string; unread: (UnreadShown)[]; whereabouts: string }
export interface HandedInSaid { queue: number }
export interface HeadGiven { hash: string; n: number }
export interface HeadShown { hash: string; n: number }
export interface HeadsAgreed { against: (number)[]; agree: boolean }
export interface HeadsGiven { heads: (HeadGiven)[] }
export interface HelloAsked { nonce: string }
export interface HelloShown { desk_key: string; sig: string }
export interface HistoryLine { at: string; n: number; what: string; words: string }
export interface Hit { id: string; kind: "object" | "stand" | "person" | "fact" | "clause"; title: string; words: string }
export interface Hits { hits: (Hit)[]; more: boolean }
export interface HoldLifted { hold: string; reason: string }
export interface HoldPlaced { off_floor?: boolean; reason: string; sort: "stolen_query" | "species" | "assay" | "paper" | "incident" | "dispute" | "other" }
export interface HoldShown { name: string; off_floor: boolean; reason: string; sort: string }
export interface IntakeShown { added: number; changed: (ChangeShown)[]; columns: (ColumnShown)[]; done: number; fields: (string)[]; file: string; first_rows: (RowShown)[]; id: string; may_undo: boolean; objects: number; problems: (OddCell)[]; questions: (string)[]; removed: (RowShown)[]; same: number; stand: string; state: "reading" | "ready" | "taking" | "taken" | "failed" | "undone"; total: number }
export interface KeptShown { condition: string; number: string; object: string; place: string; receipt: string; stand: string; text: string }
export interface KeysMade { passphrase: string }
export interface KeysShown { ballots: "readable" | "covered" | "open"; id: string; made: boolean; tried: (boolean)[]; unlocked: boolean }
export interface KeysUnlocked { passphrase: string }
export interface LabelChecked { hangs: string }
export interface LabelCorrected { price?: string | null; text: string; version?: number }
export interface LabelShown { price: string; stage: "draft" | "as_hung" | "asked" | "agreed" | "printed" | "checked" | "sealed" | "superseded"; text: string; version: number }
export interface LikeCasesShown { cases: (LikeShown)[]; faults: (string)[]; unlike: (string)[] }
export interface LikeShown { different: (string)[]; number: string; object: string; outcome: string; reasons: (string)[]; words: string }
export interface LogLine { at: string; dev: string; hash: string; kind: string; n: number; status: string; sub: string; who: string }
export interface LogVerified { entries: number; head: string; problems: (OddCell)[]; whole: boolean; words: string }
export interface LookAgainShown { chance: string; done: boolean; may_look: boolean; number: string; object: string; words: string }
export interface LookedAgain { found: "fault" | "nothing"; words?: string }
export interface LotDrawn { among?: "passed" | "seen"; seed?: number | null; size: number }
export interface Me { id: string; kind: "person" | "card"; may: (string)[]; name: string; panels: (string)[]; roles: (string)[]; stand: string }
export interface MediumShown { copies: (CopyShown)[]; free_mb: number; other_disk: boolean; place: string }
export interface MoveMade { condition?: string; given_by: string; place?: string; to: "exhibitor" | "stand" | "table" | "laboratory" | "safe_keeping" | "sold_store" | "left_hall" }
export interface MoveShown { at: string; condition: string; from_: string; given_by: string; n: number; place: string; taken_by: string; to: string }
export interface NewBallot { answers?: (AnswerOnClaim)[]; competent?: boolean; conditions?: (ConditionSaid)[]; date?: DateSaid | null; object: string; outcome: "accept" | "relabel" | "remove" | "refer"; reasons?: (string)[]; round?: 1 | 2; sets_aside?: ([string, string])[]; wording?: string }
export interface NewObservation { about?: string; corrects?: string; instrument?: string; kind: string; more?: Record<string, string | number | Record<string, string>>; original?: boolean | null; part?: string; spot?: string; surface?: string; terms?: (string)[]; values?: Record<string, Figure>; words?: string }
export interface NewPassphrase { new: string; old: string }
export interface NewPerson { disciplines?: (string)[]; id: string; name: string; roles?: ("office" | "chair" | "deputy" | "leader" | "member" | "scribe" | "steward" | "laboratory" | "appeals" | "auditor")[] }
export interface NewStand { exhibitor: string; id: string; number?: string; zone?: string }
export interface NotFoundSaid { reason?: "absent" | "locked" | "not_seen" }
export interface ObjectLine { disciplines: (string)[]; examination: "listed" | "presented" | "examining" | "opinions_in" | "proposed" | "confirmed" | "final" | "unlisted" | "not_found" | "not_seen" | "paper_due" | "referred" | "withdrawn" | "under_appeal" | "reopened"; faults: number; id: string; label: "draft" | "as_hung" | "asked" | "agreed" | "printed" | "checked" | "sealed" | "superseded"; mine: "" | "locked" | "stepped_back"; number: string; outcome: string; stand: string; text: string; whereabouts: string; worst: number | null }
export interface ObjectPage { items: (ObjectLine)[]; next: number | null; offset: number; total: number }
export interface ObjectShown { alarms: (string)[]; answer: AnswerShown | null; beside: (BesideShown)[]; claims: (ClaimShown)[]; clashes: (ClashShown)[]; clauses: (ClauseAnswerShown)[]; clauses_of_outcome: (string)[]; date_sentence: string; disciplines: (string)[]; examination: "listed" | "presented" | "examining" | "opinions_in" | "proposed" | "confirmed" | "final" | "unlisted" | "not_found" | "not_seen" | "paper_due" | "referred" | "withdrawn" | "under_appeal" | "reopened"; exhibitor: string; faults: (FaultShown)[]; hidden: (string)[]; history: (HistoryLine)[]; holds: (HoldShown)[]; id: string; label_stage: "draft" | "as_hung" | "asked" | "agreed" | "printed" | "checked" | "sealed" | "superseded"; label_version: number; labels: (LabelShown)[]; may: (string)[]; may_be_shown: boolean; may_vote: string | null; moves: (MoveShown)[]; number: string; observations: (ObservationShown)[]; on_label: string; on_outcome: string; outcome: string; own_ballots: (OwnBallot)[]; papers: (PaperShown)[]; pictures: (PictureShown)[]; place: string; price: string | null; raw: Record<string, string> | null; reasons: (string)[]; recused: (string)[] | null; ribbon_url: string; ribbon_words: string; round: 1 | 2; seal: string; split: SplitShown | null; stand: string; stepped_back: boolean; text: string; trade: string; unread: (UnreadShown)[]; whereabouts: string }
export interface ObservationShown { by: string; cautions: (string)[]; id: string; instrument: string; kind: string; more: Record<string, string>; part: string; sentences: (string)[]; spot: string; surface: string; terms: (string)[]; values: (FigureShown)[]; words: string }
export interface OddCell { code: string; found: string; remedy: string; severity: number; what: string; where: string; why: string }
export interface OpenCaseShown { next: string; number: string; object: string; open: string; stand: string; words: string }
export interface OpeningGiven { path: string; salt: string; value: string }
export interface OwnAnswer { claim: string; reason: string; verdict: string }
export interface OwnBallot { answers: (OwnAnswer)[]; earliest: number | null; late: boolean; latest: number | null; outcome: string; reasons: (string)[]; round: number; wording: string }
export interface OwnShown { events: (Record<string, unknown>)[]; more: boolean }
export interface PaceShown { hour: string; panel: string; sentence: string }
export interface PairAsked { again?: string; checks?: Record<string, string | number | boolean | null>; code: string; key?: string; name?: string; nonce: string }
export interface PairYes { name?: string; person: string }
export interface PairingShown { dev: string; fair: string; needs_pin: boolean; person: string; state: "waiting" | "yes" | "no" | "gone"; words: (string)[] }
export interface PanelFormed { disciplines?: (string)[]; leader?: string | null; members: (string)[] }
export interface PanelShown { disciplines: (string)[]; id: string; leader: string; members: (string)[] }
export interface PaperFiled { sort: "bill" | "licence" | "report" | "provenance" | "other"; words: string }
export interface PaperShown { sort: string; words: string }
export interface PersonNamed { person: string }
export interface PersonOnTablet { id: string; name: string; pin: boolean }
export interface PersonShown { conflicts: (string)[]; disciplines: (string)[]; id: string; name: string; object_conflicts: (string)[]; roles: (string)[]; signs_in: boolean }
export interface PictureShown { digest: string; part: string; url: string; view: string }
export interface PinGiven { person: string; pin: string }
export interface ProblemBody { code: string; remedy: string; what: string; where: string; why: string }
export interface PullShown { again: boolean; cards: (CardShown)[]; entries: (EntryShown)[]; epoch: string; gone: (string)[]; head: HeadShown; more: boolean; next: CursorShown; now_ms: number; objects: (FloorObject)[]; redacted: (Record<string, string>)[]; safe_n: number }
export interface PushGiven { dev: string; epoch: string; events: (EventGiven)[]; oldest_ms?: number; pictures?: number; proto: number; queue?: number }
export interface PushShown { epoch: string; head: HeadShown; now_ms: number; proto: number; results: (ResultShown)[]; safe_n: number }
export interface QuestionAsked { paper?: boolean; to: string; words: string }
export interface QuestionShown { kind: "renumbered" | "other"; number: number; object: string; stand: string; to: string; words: string }
export interface RatesShown { count: number; high: number; low: number; of: string; total: number; what: string }
export interface ReadOnObject { hangs: string; object: string }
export interface RecordShown { archives: (ArchiveShown)[]; behind: boolean; counts: boolean; fault: string; key: string; keys: "none" | "untried" | "ready"; last: CopyShown | null; late: boolean; may_name: boolean; media: (MediumShown)[]; place: string; there: boolean; tried_out: string; unlocked: boolean; work: WorkShown | null }
export interface RedactAsked { entry: number; field?: string | null; ground: "retention" | "request" | "law" | "mistake"; second: SecondPerson }
export interface ReferAsked { to: string; words?: string }
export interface ReopenAsked { reason: string; second: SecondPerson }
export interface ReportShown { coverage: ([string, number])[]; fair: string; limits: (string)[]; paragraphs: (string)[]; rates: (RatesShown)[]; rulebook: string }
export interface RestoreAsked { made: number; place: string; words: string }
export interface ResultShown { epoch: string; id: string; last: number; n: number; status: "ok" | "have" | "stale" | "held" | "denied" | "gap" | "clash" | "epoch" | "refused"; why: string }
export interface RevokeAsked { how: "lost" | "stolen" | "retired" }
export interface RoleGiven { role: "office" | "chair" | "deputy" | "leader" | "member" | "scribe" | "steward" | "laboratory" | "appeals" | "auditor" }
export interface RoundShown { fair: Record<string, string>; panels: (Record<string, unknown>)[]; people: (Record<string, string>)[]; stands: (RoundStand)[] }
export interface RoundStand { done: number; exhibitor: string; id: string; left: number; number: string; objects: (string)[]; zone: string }
export interface RowShown { fields: Record<string, string>; number: string; text: string }
export interface RuleBookOnFile { fair: string; id: string; quorum: number; version: string }
export interface RuleDifference { left: string; right: string; what: string }
export interface RulesShown { clauses: (ClauseShown)[]; datelines: Record<string, number>; definitions: Record<string, string>; fair: string; id: string; switches: (SettingShown)[]; version: string; voting: (SettingShown)[] }
export interface SealAsked { labels: (ReadOnObject)[] }
export interface SealRevoked { reason: string; second: SecondPerson }
export interface SealShown { check: string; number: string; object: string; stand: string; state: string; words: string }
export interface SealingShown { keys: KeysShown; ready: (ToSeal)[]; sealed: (SealShown)[] }
export interface SecondLooksShown { assumptions: (string)[]; capacity: number; looks: (LookAgainShown)[]; missed: (string)[]; pace: (PaceShown)[]; referred: number | null; would_pay: number | null }
export interface SecondPerson { passphrase: string; person: string }
export interface SecondsShown { for_you: (WaitingSecond)[]; from_you: (WaitingSecond)[] }
export interface SecretOnce { secret: string; who: string }
export interface SessionNow { begun: boolean; fair: string; me: Me | null; set_up_needed: boolean }
export interface SetUp { chair: string; chair_name: string; code: string; name?: string; opens?: string; passphrase: string; rules: string }
export interface SetUpNow { fair_begun: boolean; needed: boolean; rulebooks: (RuleBookOnFile)[] }
export interface SettingShown { clause: string; house_default: boolean; name: string; value: string }
export interface SheetSaid { done: boolean; sheet: number }
export interface SheetShown { about: string; number: number; words: (string)[] }
export interface SheetTried { passphrase?: string; words: string }
export interface SheetsOnce { id: string; sheets: (SheetShown)[] }
export interface SignIn { passphrase: string; person: string }
export interface SplitShown { claims: (ClaimSplit)[]; outcomes: Record<string, number>; round: number }
export interface StandShown { exhibitor: string; has_card: boolean; id: string; number: string; objects: number; zone: string }
export interface StepShown { after: string; before: string; did: string; why: (string)[] }
export interface TabletShown { behind: number; checks: Record<string, unknown>; dev: string; handed_in: string; name: string; oldest_s: number; paired: string; people: (string)[]; pictures: number; queue: number; seen: string; seen_s: number; signs: boolean; state: "paired" | "lost" | "stolen" | "retired" }
export interface TabletsShown { alarms: (AlarmShown)[]; tablets: (TabletShown)[]; waiting: (WaitingShown)[] }
export interface ToSeal { number: string; object: string; stage: "draft" | "as_hung" | "asked" | "agreed" | "printed" | "checked" | "sealed" | "superseded"; stand: string; version: number; words: string }
export interface TrialAsked { place: string; words: string }
export interface TwoAsked { entry?: number | null; field?: string | null; ground?: "retention" | "request" | "law" | "mistake" | null; object: string; reason?: string; what: "confirm" | "final" | "reopen" | "redact" | "revoke_seal" }
export interface UnlikeNoted { one: string; other: string }
export interface UnlikeShown { noted: boolean; one: string; other: string; outcomes: [string, string]; sentence: string }
export interface UnlockedShown { name: string; roles: (string)[]; who: string }
export interface UnreadShown { end: number; start: number; words: string }
export interface WaitingSecond { by: string; id: string; minutes: number; number: string; object: string; reason: string; says: string; stand: string; text: string; what: "confirm" | "final" | "reopen" | "redact" | "revoke_seal" }
export interface WaitingShown { again: string; at: string; checks: Record<string, unknown>; name: string; pairing: string; signs: boolean; words: (string)[] }
export interface WordChangeShown { kind: "same" | "removed" | "added"; words: string }
export interface WordingShown { asked: string; changes: (WordChangeShown)[]; hung: string; number: string; object: string; stage: "draft" | "as_hung" | "asked" | "agreed" | "printed" | "checked" | "sealed" | "superseded"; stand: string; version: number; why: (string)[] }
export interface WordsAgreed { version: number }
export interface WordsAsked { base?: string; house?: boolean; reason?: string; text?: string }
export interface WorkShown { problems: (OddCell)[]; says: string; share: number; state: "running" | "done" | "failed"; step: string; what: "backup" | "trial" | "archive" | "check" | "restore"; where: string }

export const api = {
  appeals: () =>
    call<(AppealLine)[]>("GET", `/api/v1/appeals`),
  lock_ballots: (body: Ballots) =>
    call<Done>("POST", `/api/v1/ballots`, { body }),
  blob_so_far: (at: { digest: string }) =>
    call<unknown>("HEAD", `/api/v1/blobs/${part(at.digest)}`),
  put_blob: (at: { digest: string; offset: number; size: number }, body: Blob) =>
    call<BlobShown>("PUT", `/api/v1/blobs/${part(at.digest)}`, { query: { offset: at.offset, size: at.size }, body }),
  board: () =>
    call<BoardShown>("GET", `/api/v1/board`),
  cards: (at: { closed?: boolean } = {}) =>
    call<(CardShown)[]>("GET", `/api/v1/cards`, { query: { closed: at.closed } }),
  close_card: (at: { event: string }, body: CardClosed) =>
    call<(CardShown)[]>("POST", `/api/v1/cards/${part(at.event)}`, { body }),
  counter: () =>
    call<CounterShown>("GET", `/api/v1/counter`),
  counter_object: (at: { object_id: string }) =>
    call<CounterObject>("GET", `/api/v1/counter/objects/${part(at.object_id)}`),
  counter_agree: (at: { object_id: string }, body: WordsAgreed) =>
    call<CounterObject>("POST", `/api/v1/counter/objects/${part(at.object_id)}/agree`, { body }),
  lodge_appeal: (at: { object_id: string }, body: AppealLodged) =>
    call<CounterObject>("POST", `/api/v1/counter/objects/${part(at.object_id)}/appeal`, { body }),
  correct_label: (at: { object_id: string }, body: LabelCorrected) =>
    call<CounterObject>("PUT", `/api/v1/counter/objects/${part(at.object_id)}/label`, { body }),
  counter_file_paper: (at: { object_id: string }, body: PaperFiled) =>
    call<Done>("POST", `/api/v1/counter/objects/${part(at.object_id)}/papers`, { body }),
  counter_picture: (at: { object_id: string; view?: string }, body: Blob) =>
    call<PictureShown>("POST", `/api/v1/counter/objects/${part(at.object_id)}/pictures`, { query: { view: at.view }, body }),
  ask_reprint: (at: { object_id: string }) =>
    call<Done>("POST", `/api/v1/counter/objects/${part(at.object_id)}/reprint`),
  counter_paper: (at: { paper: "slips" | "wording" | "labels" }) =>
    call<unknown>("GET", `/api/v1/counter/papers/${part(at.paper)}.pdf`),
  counter_try: (body: LabelCorrected) =>
    call<CounterTry>("POST", `/api/v1/counter/try`, { body }),
  device: () =>
    call<DeviceShown>("GET", `/api/v1/device`),
  tablets: () =>
    call<TabletsShown>("GET", `/api/v1/devices`),
  new_pairing_code: () =>
    call<CodeShown>("POST", `/api/v1/devices/codes`),
  take_file: (body: Blob) =>
    call<FileTaken>("POST", `/api/v1/devices/files`, { body }),
  pair_no: (at: { pairing: string }) =>
    call<TabletsShown>("POST", `/api/v1/devices/waiting/${part(at.pairing)}/no`),
  pair_yes: (at: { pairing: string }, body: PairYes) =>
    call<TabletsShown>("POST", `/api/v1/devices/waiting/${part(at.pairing)}/yes`, { body }),
  share_tablet: (at: { dev: string }, body: PersonNamed) =>
    call<TabletsShown>("POST", `/api/v1/devices/${part(at.dev)}/people`, { body }),
  revoke_tablet: (at: { dev: string }, body: RevokeAsked) =>
    call<TabletsShown>("POST", `/api/v1/devices/${part(at.dev)}/revoke`, { body }),
  facts: (at: { words?: string; year?: number | null; size?: number } = {}) =>
    call<(FactShown)[]>("GET", `/api/v1/facts`, { query: { words: at.words, year: at.year, size: at.size } }),
  fact: (at: { fact_id: string }) =>
    call<FactShown>("GET", `/api/v1/facts/${part(at.fact_id)}`),
  fair: () =>
    call<FairShown>("GET", `/api/v1/fair`),
  rules: () =>
    call<RulesShown>("GET", `/api/v1/fair/rules`),
  rules_compared: (at: { name: string }) =>
    call<(RuleDifference)[]>("GET", `/api/v1/fair/rules/compared/${part(at.name)}`),
  handed_in: (body: HandedInSaid) =>
    call<unknown>("POST", `/api/v1/handed_in`, { body }),
  compare_heads: (body: HeadsGiven) =>
    call<HeadsAgreed>("POST", `/api/v1/heads`, { body }),
  hello: (body: HelloAsked) =>
    call<HelloShown>("POST", `/api/v1/hello`, { body }),
  intake: (at: { intake: string }) =>
    call<IntakeShown>("GET", `/api/v1/intakes/${part(at.intake)}`),
  choose_columns: (at: { intake: string }, body: ColumnsChosen) =>
    call<IntakeShown>("PUT", `/api/v1/intakes/${part(at.intake)}/columns`, { body }),
  take_list: (at: { intake: string }) =>
    call<IntakeShown>("POST", `/api/v1/intakes/${part(at.intake)}/take`),
  undo_list: (at: { intake: string }) =>
    call<IntakeShown>("POST", `/api/v1/intakes/${part(at.intake)}/undo`),
  keys: () =>
    call<KeysShown>("GET", `/api/v1/keys`),
  make_keys: (body: KeysMade) =>
    call<SheetsOnce>("POST", `/api/v1/keys`, { body }),
  lock_keys: () =>
    call<KeysShown>("POST", `/api/v1/keys/lock`),
  try_sheet: (body: SheetTried) =>
    call<SheetSaid>("POST", `/api/v1/keys/sheets`, { body }),
  unlock_keys: (body: KeysUnlocked) =>
    call<KeysShown>("POST", `/api/v1/keys/unlock`, { body }),
  lock_tablet: () =>
    call<unknown>("POST", `/api/v1/lock`),
  log: (at: { after?: number; size?: number } = {}) =>
    call<(LogLine)[]>("GET", `/api/v1/log`, { query: { after: at.after, size: at.size } }),
  verify_log: () =>
    call<LogVerified>("GET", `/api/v1/log/verified`),
  objects: (at: { text?: string; stand?: string; discipline?: string; examination?: string; outcome?: string; label?: string; mine?: boolean; offset?: number; size?: number } = {}) =>
    call<ObjectPage>("GET", `/api/v1/objects`, { query: { text: at.text, stand: at.stand, discipline: at.discipline, examination: at.examination, outcome: at.outcome, label: at.label, mine: at.mine, offset: at.offset, size: at.size } }),
  object_detail: (at: { object_id: string }) =>
    call<ObjectShown>("GET", `/api/v1/objects/${part(at.object_id)}`),
  appeal: (at: { object_id: string }) =>
    call<AppealShown>("GET", `/api/v1/objects/${part(at.object_id)}/appeal`),
  take_appeal: (at: { object_id: string }, body: AppealTaken) =>
    call<AppealShown>("POST", `/api/v1/objects/${part(at.object_id)}/appeal`, { body }),
  appeal_paper: (at: { object_id: string }) =>
    call<unknown>("GET", `/api/v1/objects/${part(at.object_id)}/appeal.pdf`),
  count_appeal: (at: { object_id: string }) =>
    call<AppealShown>("POST", `/api/v1/objects/${part(at.object_id)}/appeal/count`),
  decide_appeal: (at: { object_id: string }, body: AppealDecided) =>
    call<AppealShown>("POST", `/api/v1/objects/${part(at.object_id)}/appeal/decision`, { body }),
  seal_appeal_view: (at: { object_id: string }, body: AppealView) =>
    call<AppealShown>("POST", `/api/v1/objects/${part(at.object_id)}/appeal/view`, { body }),
  own_ballot: (at: { object_id: string }) =>
    call<(OwnBallot)[]>("GET", `/api/v1/objects/${part(at.object_id)}/ballot`),
  confirm_outcome: (at: { object_id: string }, body: ConfirmAsked) =>
    call<ObjectShown>("POST", `/api/v1/objects/${part(at.object_id)}/confirm`, { body }),
  count_object: (at: { object_id: string }, body: CountAsked) =>
    call<CountShown>("POST", `/api/v1/objects/${part(at.object_id)}/count`, { body }),
  make_final: (at: { object_id: string }, body: FinalAsked) =>
    call<ObjectShown>("POST", `/api/v1/objects/${part(at.object_id)}/final`, { body }),
  place_hold: (at: { object_id: string }, body: HoldPlaced) =>
    call<ObjectShown>("POST", `/api/v1/objects/${part(at.object_id)}/holds`, { body }),
  lift_hold: (at: { object_id: string }, body: HoldLifted) =>
    call<ObjectShown>("POST", `/api/v1/objects/${part(at.object_id)}/holds/lift`, { body }),
  like_cases: (at: { object_id: string }) =>
    call<LikeCasesShown>("GET", `/api/v1/objects/${part(at.object_id)}/like-cases`),
  move_object: (at: { object_id: string }, body: MoveMade) =>
    call<ObjectShown>("POST", `/api/v1/objects/${part(at.object_id)}/moves`, { body }),
  not_found: (at: { object_id: string }, body: NotFoundSaid) =>
    call<ObjectLine>("POST", `/api/v1/objects/${part(at.object_id)}/not-found`, { body }),
  add_observation: (at: { object_id: string }, body: NewObservation) =>
    call<ObjectShown>("POST", `/api/v1/objects/${part(at.object_id)}/observations`, { body }),
  file_paper: (at: { object_id: string }, body: PaperFiled) =>
    call<Done>("POST", `/api/v1/objects/${part(at.object_id)}/papers`, { body }),
  add_picture: (at: { object_id: string; view?: string; part?: string }, body: Blob) =>
    call<PictureShown>("POST", `/api/v1/objects/${part(at.object_id)}/pictures`, { query: { view: at.view, part: at.part }, body }),
  present_object: (at: { object_id: string }) =>
    call<ObjectLine>("POST", `/api/v1/objects/${part(at.object_id)}/presented`),
  ask_question: (at: { object_id: string }, body: QuestionAsked) =>
    call<Done>("POST", `/api/v1/objects/${part(at.object_id)}/questions`, { body }),
  step_back: (at: { object_id: string }) =>
    call<Done>("POST", `/api/v1/objects/${part(at.object_id)}/recusal`),
  redact: (at: { object_id: string }, body: RedactAsked) =>
    call<Done>("POST", `/api/v1/objects/${part(at.object_id)}/redact`, { body }),
  refer: (at: { object_id: string }, body: ReferAsked) =>
    call<ObjectShown>("POST", `/api/v1/objects/${part(at.object_id)}/refer`, { body }),
  reopen: (at: { object_id: string }, body: ReopenAsked) =>
    call<ObjectShown>("POST", `/api/v1/objects/${part(at.object_id)}/reopen`, { body }),
  ribbon: (at: { object_id: string }) =>
    call<unknown>("GET", `/api/v1/objects/${part(at.object_id)}/ribbon.svg`),
  revoke_seal: (at: { object_id: string }, body: SealRevoked) =>
    call<ObjectShown>("POST", `/api/v1/objects/${part(at.object_id)}/seal/revoke`, { body }),
  looked_again: (at: { object_id: string }, body: LookedAgain) =>
    call<Done>("POST", `/api/v1/objects/${part(at.object_id)}/second-look`, { body }),
  words_found: (at: { object_id: string }) =>
    call<AgreedWordsShown>("GET", `/api/v1/objects/${part(at.object_id)}/words`),
  agree_words: (at: { object_id: string }, body: WordsAgreed) =>
    call<ObjectShown>("POST", `/api/v1/objects/${part(at.object_id)}/words/agree`, { body }),
  ask_words: (at: { object_id: string }, body: WordsAsked) =>
    call<ObjectShown>("POST", `/api/v1/objects/${part(at.object_id)}/words/ask`, { body }),
  check_hung: (at: { object_id: string }, body: LabelChecked) =>
    call<ObjectShown>("POST", `/api/v1/objects/${part(at.object_id)}/words/checked`, { body }),
  open_cases: (at: { stand?: string } = {}) =>
    call<(OpenCaseShown)[]>("GET", `/api/v1/open-cases`, { query: { stand: at.stand } }),
  own_entries: (at: { after_seq?: number } = {}) =>
    call<OwnShown>("GET", `/api/v1/own`, { query: { after_seq: at.after_seq } }),
  pair: (body: PairAsked) =>
    call<AskedShown>("POST", `/api/v1/pair`, { body }),
  set_pin: (body: PinGiven) =>
    call<unknown>("POST", `/api/v1/pair/pin`, { body }),
  pair_state: () =>
    call<PairingShown>("GET", `/api/v1/pair/state`),
  panels: () =>
    call<(PanelShown)[]>("GET", `/api/v1/panels`),
  form_panel: (at: { panel: string }, body: PanelFormed) =>
    call<PanelShown>("PUT", `/api/v1/panels/${part(at.panel)}`, { body }),
  labels_printed: (at: { stand?: string } = {}) =>
    call<Done>("POST", `/api/v1/papers/labels/printed`, { query: { stand: at.stand } }),
  paper: (at: { paper: "sheets" | "slips" | "wording" | "labels" | "receipts" | "open-cases" | "report"; stand?: string; object?: string }) =>
    call<unknown>("GET", `/api/v1/papers/${part(at.paper)}.pdf`, { query: { stand: at.stand, object: at.object } }),
  people: () =>
    call<(PersonShown)[]>("GET", `/api/v1/people`),
  add_person: (body: NewPerson) =>
    call<PersonShown>("POST", `/api/v1/people`, { body }),
  declare_conflict: (at: { person: string }, body: ConflictDeclared) =>
    call<PersonShown>("POST", `/api/v1/people/${part(at.person)}/conflicts`, { body }),
  new_passphrase: (at: { person: string }) =>
    call<SecretOnce>("POST", `/api/v1/people/${part(at.person)}/passphrase`),
  give_role: (at: { person: string }, body: RoleGiven) =>
    call<PersonShown>("POST", `/api/v1/people/${part(at.person)}/roles`, { body }),
  withdraw_role: (at: { person: string; role: "office" | "chair" | "deputy" | "leader" | "member" | "scribe" | "steward" | "laboratory" | "appeals" | "auditor" }) =>
    call<PersonShown>("DELETE", `/api/v1/people/${part(at.person)}/roles/${part(at.role)}`),
  picture: (at: { digest: string }) =>
    call<unknown>("GET", `/api/v1/pictures/${part(at.digest)}`),
  pull: (at: { epoch?: string; after?: number; hash?: string; from?: string; queue?: number; oldest_ms?: number; pictures?: number; proto?: number } = {}) =>
    call<PullShown>("GET", `/api/v1/pull`, { query: { epoch: at.epoch, after: at.after, hash: at.hash, from: at.from, queue: at.queue, oldest_ms: at.oldest_ms, pictures: at.pictures, proto: at.proto } }),
  push: (body: PushGiven) =>
    call<PushShown>("POST", `/api/v1/push`, { body }),
  questions: () =>
    call<(QuestionShown)[]>("GET", `/api/v1/questions`),
  answer_question: (at: { number: number }, body: AnswerGiven) =>
    call<Done>("POST", `/api/v1/questions/${part(at.number)}/answer`, { body }),
  record: () =>
    call<RecordShown>("GET", `/api/v1/record`),
  write_archive: (body: ArchiveAsked) =>
    call<RecordShown>("POST", `/api/v1/record/archive`, { body }),
  check_archive: (body: ArchiveChecked) =>
    call<RecordShown>("POST", `/api/v1/record/archive/check`, { body }),
  make_backup: (body: BackUpAsked) =>
    call<RecordShown>("POST", `/api/v1/record/backup`, { body }),
  open_copy: (body: RestoreAsked) =>
    call<RecordShown>("POST", `/api/v1/record/restore`, { body }),
  try_backup: (body: TrialAsked) =>
    call<RecordShown>("POST", `/api/v1/record/trial`, { body }),
  report: () =>
    call<ReportShown>("GET", `/api/v1/report`),
  walking_round: () =>
    call<RoundShown>("GET", `/api/v1/round`),
  rulebooks: () =>
    call<(RuleBookOnFile)[]>("GET", `/api/v1/rulebooks`),
  rulebook: (at: { name: string }) =>
    call<RulesShown>("GET", `/api/v1/rulebooks/${part(at.name)}`),
  safe_keeping: () =>
    call<(KeptShown)[]>("GET", `/api/v1/safe-keeping`),
  seals: (at: { stand?: string } = {}) =>
    call<SealingShown>("GET", `/api/v1/seals`, { query: { stand: at.stand } }),
  seal_labels: (body: SealAsked) =>
    call<(SealShown)[]>("POST", `/api/v1/seals`, { body }),
  search: (at: { q: string }) =>
    call<Hits>("GET", `/api/v1/search`, { query: { q: at.q } }),
  second_looks: (at: { capacity?: number } = {}) =>
    call<SecondLooksShown>("GET", `/api/v1/second-looks`, { query: { capacity: at.capacity } }),
  draw_second_looks: (body: LotDrawn) =>
    call<Done>("POST", `/api/v1/second-looks`, { body }),
  seconds: () =>
    call<SecondsShown>("GET", `/api/v1/seconds`),
  ask_second: (body: TwoAsked) =>
    call<WaitingSecond>("POST", `/api/v1/seconds`, { body }),
  take_back_second: (at: { asked_id: string }) =>
    call<Done>("DELETE", `/api/v1/seconds/${part(at.asked_id)}`),
  agree_second: (at: { asked_id: string }) =>
    call<Done>("POST", `/api/v1/seconds/${part(at.asked_id)}/agree`),
  sign_out: () =>
    call<unknown>("DELETE", `/api/v1/session`),
  session_now: () =>
    call<SessionNow>("GET", `/api/v1/session`),
  sign_in: (body: SignIn) =>
    call<Me>("POST", `/api/v1/session`, { body }),
  sign_in_with_card: (body: CardSignIn) =>
    call<Me>("POST", `/api/v1/session/card`, { body }),
  change_passphrase: (body: NewPassphrase) =>
    call<unknown>("POST", `/api/v1/session/passphrase`, { body }),
  set_up_now: () =>
    call<SetUpNow>("GET", `/api/v1/setup`),
  set_up: (body: SetUp) =>
    call<Me>("POST", `/api/v1/setup`, { body }),
  bring_back: (body: BringBack) =>
    call<BroughtBack>("POST", `/api/v1/setup/back`, { body }),
  copies_at_set_up: (body: CopiesAsked) =>
    call<(FairOnMedium)[]>("POST", `/api/v1/setup/copies`, { body }),
  stands: () =>
    call<(StandShown)[]>("GET", `/api/v1/stands`),
  add_stand: (body: NewStand) =>
    call<StandShown>("POST", `/api/v1/stands`, { body }),
  new_card: (at: { stand: string }) =>
    call<SecretOnce>("POST", `/api/v1/stands/${part(at.stand)}/card`),
  send_list: (at: { stand: string; name?: string }, body: Blob) =>
    call<IntakeShown>("POST", `/api/v1/stands/${part(at.stand)}/lists`, { query: { name: at.name }, body }),
  unlike_cases: () =>
    call<(UnlikeShown)[]>("GET", `/api/v1/unlike-cases`),
  note_unlike: (body: UnlikeNoted) =>
    call<Done>("POST", `/api/v1/unlike-cases`, { body }),
  unlock: (body: PinGiven) =>
    call<UnlockedShown>("POST", `/api/v1/unlock`, { body }),
  wording: (at: { stand?: string } = {}) =>
    call<(WordingShown)[]>("GET", `/api/v1/wording`, { query: { stand: at.stand } }),
};
