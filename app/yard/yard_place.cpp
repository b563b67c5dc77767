// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/yard/yard_place.h"

#include "app/shell/session.h"

namespace keyround {

struct YardPlace::Parts
{
    Session &session;
};

YardPlace::YardPlace(Session &session, QWidget *parent)
    : QWidget(parent), m_parts(std::make_unique<Parts>(Parts{session}))
{
}

YardPlace::~YardPlace() = default;

RoundId YardPlace::chosenRound() const
{
    return {};
}

} // namespace keyround
