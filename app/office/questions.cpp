// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/office/questions.h"

#include <QCoreApplication>

#include <algorithm>
#include <array>

namespace keyround {

namespace {

QString say(const char *words)
{
    return QCoreApplication::translate("Office", words);
}

constexpr std::array ageingViews{AgeingBy::All, AgeingBy::TypeAndSize, AgeingBy::Type,
                                 AgeingBy::SizeClass, AgeingBy::InstallDecade};

} // namespace

QString wordFor(Question question)
{
    switch (question) {
    case Question::Pace:
        return say("Are we on pace?");
    case Question::State:
        return say("What state are they in?");
    case Question::Changes:
        return say("What went out, what came back?");
    case Question::Ageing:
        return say("Which kind fails, at what age?");
    case Question::Turns:
        return say("Whose counts drift?");
    case Question::Next:
        return say("Where will it hurt next?");
    case Question::WhatIf:
        break;
    }
    return say("What if we did more, or less?");
}

QString keyFor(Question question)
{
    switch (question) {
    case Question::Pace:
        return QStringLiteral("pace");
    case Question::State:
        return QStringLiteral("state");
    case Question::Changes:
        return QStringLiteral("changes");
    case Question::Ageing:
        return QStringLiteral("ageing");
    case Question::Turns:
        return QStringLiteral("turns");
    case Question::Next:
        return QStringLiteral("next");
    case Question::WhatIf:
        break;
    }
    return QStringLiteral("whatIf");
}

QStringList viewsOf(Question question)
{
    switch (question) {
    case Question::Pace:
        return {say("By year"), say("This year's course"), say("By size"),
                say("By zone"), say("Valves a day"),       say("Minutes a stop")};
    case Question::State:
        return {say("All conditions"), say("Share serviceable")};
    case Question::Changes:
        return {say("By period"), say("On the map, over time")};
    case Question::Ageing:
        return {say("All valves"), say("By type and size"), say("By type"), say("By size class"),
                say("By decade of installing")};
    case Question::Turns:
    case Question::Next:
    case Question::WhatIf:
        break;
    }
    return {};
}

AgeingBy ageingOfView(int view)
{
    return ageingViews[static_cast<size_t>(
        std::clamp(view, 0, static_cast<int>(ageingViews.size()) - 1))];
}

} // namespace keyround
