//! A small picture, written byte by byte, so that no file has to be kept for it.

/// A PNG of one colour that runs from left to right (W3C PNG, third edition; its data stored uncompressed as RFC 1950
/// and RFC 1951 allow).
pub(crate) fn png(width: u16, height: u16) -> Vec<u8> {
    let row: Vec<u8> =
        [0].into_iter().chain((0..width).flat_map(|across| [across.to_le_bytes()[0], 120, 90])).collect();
    let rows = row.repeat(usize::from(height));
    let mut head = Vec::new();
    head.extend(u32::from(width).to_be_bytes());
    head.extend(u32::from(height).to_be_bytes());
    head.extend([8, 2, 0, 0, 0]);
    let mut file = b"\x89PNG\r\n\x1a\n".to_vec();
    for (name, data) in [(b"IHDR", head), (b"IDAT", stored(&rows)), (b"IEND", Vec::new())] {
        file.extend(u32::try_from(data.len()).expect("a small picture").to_be_bytes());
        let checked: Vec<u8> = name.iter().copied().chain(data).collect();
        file.extend(&checked);
        file.extend(crc32(&checked).to_be_bytes());
    }
    file
}

fn stored(data: &[u8]) -> Vec<u8> {
    let blocks: Vec<&[u8]> = data.chunks(65_535).collect();
    let mut out = vec![0x78, 0x01];
    for (at, block) in blocks.iter().enumerate() {
        let length = u16::try_from(block.len()).expect("a block is cut to fit");
        out.push(u8::from(at + 1 == blocks.len()));
        out.extend(length.to_le_bytes());
        out.extend((!length).to_le_bytes());
        out.extend(*block);
    }
    let (mut one, mut two) = (1_u32, 0_u32);
    for byte in data {
        one = (one + u32::from(*byte)) % 65_521;
        two = (two + one) % 65_521;
    }
    out.extend(((two << 16) | one).to_be_bytes());
    out
}

fn crc32(data: &[u8]) -> u32 {
    let step = |crc: u32| if crc & 1 == 1 { (crc >> 1) ^ 0xedb8_8320 } else { crc >> 1 };
    let byte = |crc: u32, byte: &u8| (0..8).fold(crc ^ u32::from(*byte), |crc, _| step(crc));
    !data.iter().fold(u32::MAX, byte)
}
