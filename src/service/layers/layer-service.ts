import type { Layer, LayerEdit, LayerView, Placing, PlacingReply } from '#contract'

/** A tile, and whether it is the last word: while only an overview is there it is not. */
export interface LayerTile {
  readonly png: Uint8Array
  /** The layer's stamp when it was painted. */
  readonly stamp: string
  readonly whole: boolean
}

/** Level 0 is the finest; each level above halves the detail. Columns and rows count from the upper left. */
export interface TileAddress {
  readonly level: number
  readonly column: number
  readonly row: number
}

/** What the desk can ask of the images and terrain models of its survey. Faults are SurveyErrors. */
export interface LayerService {
  list(): Layer[]
  /** Faults: 'not-found', 'unknown-system', 'outside-grid', 'setting-out-of-range', 'mixed-grids'. */
  change(id: number, edit: LayerEdit): Layer
  /** Files outside the survey stay where they are. */
  remove(id: number): void
  /** Places a picture by tie points. Faults: 'not-found', 'tie-points-weak', 'no-track' while the survey has no grid. */
  place(id: number, placing: Placing): PlacingReply
  /** Takes the bytes of a layer's files into the survey. Faults: 'not-found', 'file-too-large', 'disk-full'. */
  keepInside(id: number): Promise<Layer>
  /**
   * One tile of 256 x 256 pixels in the survey's grid, clear where the layer does not reach: level 0 has pixels of `tileM`, from the
   * north-west corner of `bounds`. Without a view, the layer's usual one. Faults: 'not-found' (also for a layer that lies nowhere),
   * 'setting-out-of-range', 'cancelled' after `signal`, those of reading its file.
   */
  tile(id: number, at: TileAddress, view: LayerView | null, signal?: AbortSignal): Promise<LayerTile>
  /** The same in the picture's own pixels, for placing it: level 0 has one a pixel, from its upper left corner. */
  pictureTile(id: number, at: TileAddress, view: LayerView | null, signal?: AbortSignal): Promise<LayerTile>
}
