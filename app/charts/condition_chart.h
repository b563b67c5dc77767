// SPDX-License-Identifier: GPL-3.0-or-later
// Condition over time as stacked bands by period, drawn with QCustomPlot. One picture for the
// Office, for PNG and PDF files and for the console.
#pragma once

#include "core/condition/series.h"
#include "core/common/result.h"

#include <QWidget>

namespace keyround {

struct ConditionPicture
{
    QString title;
    QString filterWords; ///< written on the chart when not empty
    std::vector<PeriodCounts> series;
};

class ConditionChart final : public QWidget
{
    Q_OBJECT
public:
    explicit ConditionChart(QWidget *parent = nullptr);
    ~ConditionChart() override;

    void show(const ConditionPicture &picture);
    [[nodiscard]] Status savePng(const QString &path, const QSize &size = {1600, 900});
    [[nodiscard]] Status savePdf(const QString &path, const QSize &size = {1000, 620});

Q_SIGNALS:
    void periodClicked(int index);

private:
    struct Parts;
    std::unique_ptr<Parts> m_parts;
};

} // namespace keyround
