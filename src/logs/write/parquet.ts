import type { Recording } from '../../core/recording.ts'
import { writtenColumns } from './columns.ts'

/**
 * The samples as a Parquet file (Snappy): `time_s`, `force_N` and the channels as doubles. Name, hash and
 * what was understood of the log stand in the file's metadata. The writer is loaded only when asked for.
 */
export async function writeParquet(recording: Recording): Promise<Uint8Array> {
  const { parquetWriteBuffer } = await import('hyparquet-writer')
  const buffer = parquetWriteBuffer({
    columnData: writtenColumns(recording).map(({ name, values }) => ({
      name,
      data: values,
      type: 'DOUBLE',
      nullable: false,
    })),
    codec: 'SNAPPY',
    rowGroupSize: 1_000_000,
    kvMetadata: [
      { key: 'tenterhook.name', value: recording.name },
      { key: 'tenterhook.sha256', value: recording.sha256 },
      { key: 'tenterhook.forceUnit', value: recording.forceUnit ?? '' },
      { key: 'tenterhook.understood', value: recording.understood },
      { key: 'tenterhook.segments', value: JSON.stringify(recording.segments) },
    ],
  })
  return new Uint8Array(buffer)
}
