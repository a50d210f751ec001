/**
 * The newest schema as the SQL builder sees it. Documents are JSON text, times are ISO 8601 in UTC, yes and
 * no are 1 and 0, so that every engine gives back the same. `migrations/` makes it; the two are held together
 * by a test.
 */
export interface Tables {
  schema_version: { version: number; applied_at: string }
  setting: { name: string; value: string }
  study: {
    id: string
    name: string
    question: string
    failure_modes: string
    quantity: string
    elements: number | null
    planned_per_variant: number | null
    plan: string | null
    method: string
    tell: string | null
    films: string | null
    equivalents: string
    archived: number
    created_at: string
    updated_at: string
  }
  variant: {
    id: string
    study_id: string
    name: string
    place: number
    is_control: number
    elements: number | null
    note: string
  }
  specimen: {
    id: string
    study_id: string
    variant_id: string | null
    name: string
    status: string
    status_reason: string
    failure_mode: string | null
    operator: string
    batch: string
    temperature_c: number | null
    humidity_pct: number | null
    width_mm: number | null
    thickness_mm: number | null
    length_mm: number | null
    elements: number | null
    note: string
    pulled_on: string | null
    pull_order: number | null
    /** JSON. */
    typed_peak: string | null
    created_at: string
    updated_at: string
    /** Out of sight and of every figure, and can be brought back. */
    removed_at: string | null
  }
  rig: { id: string; name: string; document: string; created_at: string; updated_at: string }
  calibration: { id: string; rig_id: string | null; made_at: string; document: string; added_at: string }
  daily_check: {
    id: string
    rig_id: string | null
    calibration_id: string | null
    made_at: string
    document: string
    added_at: string
  }
  recording: {
    id: string
    name: string
    sha256: string
    samples_sha256: string
    samples: number
    log_bytes: number
    started_at: string | null
    added_at: string
    start_s: number | null
    end_s: number | null
    force_unit: string
    time_from: string
    source: string
    device: string
    state: string
    rig_id: string | null
    calibration_id: string | null
    log_options: string
    /** Segments, channels, notes, assumptions, understood: what a Recording has besides its samples. */
    details: string
  }
  recording_log: { recording_id: string; part: number; raw_bytes: number; packed: Uint8Array }
  recording_samples: {
    recording_id: string
    /** 0 time, 1 force, then the channels. */
    series: number
    chunk: number
    samples: number
    crc32: number
    packed: Uint8Array
  }
  /**
   * What of a recording may change: the specimen that it belongs to, its rig, and whether it was set aside.
   */
  placement: {
    recording_id: string
    specimen_id: string | null
    place: number
    /**
     * The rig that it was made on, as far as it is known now; `recording.rig_id` is what was said when it was
     * taken in.
     */
    rig_id: string | null
    /** Key of the calibration of the rig that a person chose; `null`: that of the day. */
    calibration: string | null
    set_aside_at: string | null
    set_aside_why: string
    /** What it is looked up by, in small letters; made by `searchText` whenever one of its names changes. */
    search_text: string
  }
  /** What people changed of a study's specimens, with the rows before and after. */
  edit: {
    id: string
    study_id: string
    made_at: string
    who: string
    what: string
    changes: string
    taken_back_at: string | null
  }
  reading: {
    id: string
    specimen_id: string | null
    made_at: string
    engine: string
    adjustments: string
    options: string
    document: string
    peak_status: string
    peak_n: number | null
    uncertainty_n: number | null
  }
  reading_recording: { reading_id: string; place: number; recording_id: string }
  note: {
    id: string
    subject_kind: string
    subject_id: string
    text: string
    operator: string
    made_at: string
  }
  photo: {
    id: string
    subject_kind: string
    subject_id: string
    name: string
    caption: string
    mime: string
    sha256: string
    bytes: Uint8Array
    added_at: string
  }
}
