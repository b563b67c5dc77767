// SPDX-License-Identifier: GPL-3.0-or-later
// Nothing of its own: the target that owns a precompiled header needs one source to compile it for.
namespace keyround::test {
extern const int precompiled;
const int precompiled = 0;
} // namespace keyround::test
