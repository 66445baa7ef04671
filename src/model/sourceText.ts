/**
 * Whether a text is a FOLD file: JSON with a name that only the format has. A saved project that holds a FOLD file
 * has those names in a text of its own, with other quotes.
 */
export const isFoldText = (text: string): boolean =>
  /^\s*\{/.test(text) &&
  /"(?:file_spec|file_frames|frame_classes|vertices_coords|edges_vertices|edges_assignment|faces_vertices)"\s*:/.test(
    text,
  );
